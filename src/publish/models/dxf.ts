/**
 * Flat shapes for a CNC or laser as DXF release 12 text (AC1009: the sections HEADER, TABLES and ENTITIES, pairs of lines with a group
 * code and a value). Release 12 has lines, arcs, circles and polylines, no units: the unit is said in a comment and in the file's name.
 */
import type { FlatOutline, FlatPiece } from '../../draw/lines/template-outline.ts';
import type { Point } from '../../draw/types.ts';

/** Layers by what is on them; the number is the colour index they are shown in. */
const LAYERS = [
  ['OUTLINE', 7],
  ['CUT-OUT', 5],
  ['HOLE', 1],
  ['BLIND-HOLE', 6],
  ['LEANING-HOLE', 4],
  ['HOUSING', 3],
  ['EDGE', 8],
] as const;

type Layer = (typeof LAYERS)[number][0];

/** What goes on top of a file. */
export interface DxfOptions {
  readonly unit: 'mm' | 'inch';
  /** One line: plan, part and letter. */
  readonly title: string;
}

type Pair = readonly [code: number, value: string | number];

/**
 * A part's wide face as DXF text with CRLF line ends, or undefined where its outline doesn't close: a machine must not be sent along it.
 * x runs along the board's length, y along its width.
 */
export function dxfOf(outline: FlatOutline, { unit, title }: DxfOptions): string | undefined {
  if (!outline.closed) return undefined;
  const per = unit === 'mm' ? 1 : 1 / 25.4;
  const entities: Pair[] = [];
  for (const loop of outline.loops)
    for (const piece of loop.pieces) entities.push(...entity(piece, loop.hole ? 'CUT-OUT' : 'OUTLINE', per));
  for (const hole of outline.holes) {
    entities.push([0, 'CIRCLE'], [8, hole.through ? 'HOLE' : 'BLIND-HOLE']);
    entities.push(...point(10, hole.centre, per), [40, number(hole.radius * per)]);
  }
  // A leaning hole is drilled by hand or with a tilted head: its rim for the eye, and the point where the drill starts.
  for (const piece of outline.rims) entities.push(...entity(piece, 'LEANING-HOLE', per));
  for (const centre of middlesOf(outline.rims))
    entities.push([0, 'POINT'], [8, 'LEANING-HOLE'], ...point(10, centre, per));
  for (const { piece, of } of outline.inner)
    entities.push(...entity(piece, of === 'housing' ? 'HOUSING' : 'EDGE', per));
  const pairs: Pair[] = [
    [999, oneLine(title)],
    [999, unit === 'mm' ? 'Lengths in millimetres' : 'Lengths in inches'],
    ...section('HEADER', [
      [9, '$ACADVER'],
      [1, 'AC1009'],
      [9, '$EXTMIN'],
      ...point(10, outline.min, per),
      [9, '$EXTMAX'],
      ...point(10, outline.max, per),
    ]),
    ...section('TABLES', [
      ...table('LTYPE', [
        [
          [0, 'LTYPE'],
          [2, 'CONTINUOUS'],
          [70, 0],
          [3, 'Solid line'],
          [72, 65],
          [73, 0],
          [40, 0],
        ],
      ]),
      ...table(
        'LAYER',
        LAYERS.map(([name, colour]): Pair[] => [
          [0, 'LAYER'],
          [2, name],
          [70, 0],
          [62, colour],
          [6, 'CONTINUOUS'],
        ]),
      ),
    ]),
    ...section('ENTITIES', entities),
    [0, 'EOF'],
  ];
  return pairs.map(([code, value]) => `${String(code).padStart(3)}\r\n${value}\r\n`).join('');
}

/** Middles of rims that are given as two halves, each once. */
function middlesOf(rims: readonly FlatPiece[]): Point[] {
  const all = rims.map(({ from, to }): Point => [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2]);
  return all.filter(([x, y], i) => all.findIndex(([u, v]) => Math.hypot(u - x, v - y) < 0.02) === i);
}

function section(name: string, inside: readonly Pair[]): Pair[] {
  return [[0, 'SECTION'], [2, name], ...inside, [0, 'ENDSEC']];
}

function table(name: string, entries: readonly (readonly Pair[])[]): Pair[] {
  return [[0, 'TABLE'], [2, name], [70, entries.length], ...entries.flat(), [0, 'ENDTAB']];
}

/** Six decimals: a millionth of an inch, and no more digits than single precision keeps. */
const number = (value: number): string => {
  const text = value.toFixed(6);
  return text === '-0.000000' ? '0.000000' : text;
};

const point = (code: number, [x, y]: Point, per: number): Pair[] => [
  [code, number(x * per)],
  [code + 10, number(y * per)],
  [code + 20, '0.000000'],
];

function entity(piece: FlatPiece, layer: Layer, per: number): Pair[] {
  if (piece.kind === 'line')
    return [[0, 'LINE'], [8, layer], ...point(10, piece.from, per), ...point(11, piece.to, per)];
  if (piece.kind === 'curve')
    return [
      [0, 'POLYLINE'],
      [8, layer],
      [66, 1],
      ...point(10, [0, 0], per),
      [70, 0],
      ...piece.through.flatMap((p): Pair[] => [[0, 'VERTEX'], [8, layer], ...point(10, p, per)]),
      [0, 'SEQEND'],
      [8, layer],
    ];
  // Arcs run counter-clockwise in this format, angles in degrees.
  const { centre, radius, counterclockwise } = piece;
  const [from, to] = counterclockwise ? [piece.from, piece.to] : [piece.to, piece.from];
  const angle = (p: Point): string => {
    const degrees = (Math.atan2(p[1] - centre[1], p[0] - centre[0]) * 180) / Math.PI;
    return number(degrees < -5e-7 ? degrees + 360 : degrees);
  };
  return [
    [0, 'ARC'],
    [8, layer],
    ...point(10, centre, per),
    [40, number(radius * per)],
    [50, angle(from)],
    [51, angle(to)],
  ];
}

/** Text without line ends or signs outside ASCII, which this release knows nothing of. */
const oneLine = (text: string): string =>
  text
    .normalize('NFKD')
    .replaceAll(/[^\x20-\x7e]/g, '')
    .trim();
