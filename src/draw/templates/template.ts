/**
 * Full-size templates: a board's wide face at 1 : 1 with what is bored in it, and where its ends are cut both ways an edge folded out
 * beside it, to be printed over several sheets and stuck on the board. A template stands upright where that takes fewer sheets, and
 * leaves out what of a long board is straight.
 */

import type { CutListRow } from '../../cutting/types.ts';
import type { Copy, ShapeOperation } from '../../model/types.ts';
import { text } from '../../text.ts';
import { printed, sizeText } from '../../units.ts';
import type { Composed, Desk } from '../desk.ts';
import { isSawnToShape, shapedOutline } from '../lines/shaped-outline.ts';
import { signedArea } from '../lines/template-outline.ts';
import type { Segment } from '../paper/plane.ts';
import { Saying } from '../parts/feature.ts';
import { type Lying, lyingOf } from '../parts/part-lying.ts';
import { copyOf, partSheets } from '../parts/part-rows.ts';
import { boresOn } from './template-bores.ts';
import { templateMarks } from './template-marks.ts';
import { angleNotes, type Pattern, patternFace, type SawnFace, sawnFace } from './template-pattern.ts';
import { type Windows, windowsOf } from './template-windows.ts';

/** The part of a template on one sheet, Letter and A4 alike, mm. */
export const TILE = { width: 180, height: 220 } as const;

/** Words of a template's description: those who print it need to be told how to use what they stand for. */
export const SAID = {
  folded: 'an edge folded out beside its wide face',
  inPlaces: 'where it is not straight',
} as const;

/** Paper around a template, in which its edge never touches the edge of a sheet, mm. */
const MARGIN = 6;

/** A straight-sided board gets a template by itself where this many sheets hold it: more are slower to tape than to set out. */
const MOST_SHEETS = 4;

/** Sheets that a template of a size takes, across and down. */
export const tilesOf = (width: number, height: number): { columns: number; rows: number } => ({
  columns: Math.max(1, Math.ceil(width / TILE.width)),
  rows: Math.max(1, Math.ceil(height / TILE.height)),
});

/** Templates of a plan, in the order of the cut list: boards with curves, those with other than square outlines that fit, and those asked for. */
export function composeTemplates(desk: Desk): Composed[] {
  const done = new Set<string>();
  return desk.input.cutList.rows.flatMap((row) => {
    const copy = copyOf(desk, row);
    // The boards of a panel in two rows are one panel.
    if (copy === undefined || done.has(copy.id)) return [];
    done.add(copy.id);
    const made = templateOf(desk, row, copy);
    return made === undefined ? [] : [made];
  });
}

interface Found {
  readonly pattern: Pattern;
  /** Worth a template by itself: curved, or else not a plain rectangle. */
  readonly kind: 'curved' | 'shaped' | 'plain';
}

function templateOf(desk: Desk, row: CutListRow, copy: Copy): Composed | undefined {
  const part = desk.partByKey.get(row.part);
  const lying = lyingOn(desk, row, copy);
  const found = part?.template === 'no' ? undefined : patternOf(desk, lying, part?.template !== undefined);
  if (part === undefined || found === undefined) return undefined;
  const { pattern, kind } = found;
  if (kind === 'plain' && part.template === undefined) return undefined;
  const places =
    part.template === 'whole' ? undefined : windowsOf(pattern, copy.size.length, sayOf(desk, lying));
  const length = places?.length ?? copy.size.length;
  const [low, high] = pattern.across;
  const count = ({ columns, rows }: ReturnType<typeof tilesOf>): number => columns * rows;
  const [long, wide] = [length + 2 * MARGIN, high - low + 2 * MARGIN];
  const [across, up] = [count(tilesOf(long, wide)), count(tilesOf(wide, long))];
  if (kind !== 'curved' && part.template === undefined && Math.min(across, up) > MOST_SHEETS)
    return undefined;
  const panel = row.panel === undefined ? undefined : part.name.toLowerCase();
  const name = panel ?? row.name.toLowerCase();
  const title = `Template for ${panel === undefined ? 'part' : 'the panel of'} ${row.letter}, ${name}`;
  const more = places === undefined || places.places === 1 ? '' : `, ${places.places} places`;
  return {
    id: `template-${row.letter}`,
    kind: 'template',
    title,
    caption: [text(`${title}, full size.`)],
    alt: altOf(desk, row, name, pattern, places, length),
    marks: templateMarks({
      pattern: places?.pattern ?? pattern,
      cuts: (places?.cuts ?? []) as readonly Segment[],
      upright: up < across,
      named: [
        { kind: 'letter', letter: row.letter },
        text(`  ${panel === undefined ? row.name : part.name}${more}`),
      ],
      face: lying.shown,
      width: copy.size.width,
    }),
    scale: desk.plan.edition.numbers.system === 'mm' ? '1 : 1' : 'full size',
    margin: MARGIN,
  };
}

function altOf(
  desk: Desk,
  row: CutListRow,
  name: string,
  { bores, folds, across }: Pattern,
  places: Windows | undefined,
  length: number,
): string {
  const say = (value: number): string => sizeText(printed(value, desk.plan.edition.numbers));
  const { length: count } = bores;
  const holes = count === 0 ? '' : `, ${count} ${count === 1 ? 'hole with its' : 'holes with their'} middles`;
  const edge = folds.length > 0 ? `, ${SAID.folded}` : '';
  const head = `Full-size outline of part ${row.letter}, ${name}`;
  if (!places) return `${head}: ${say(length)} long and ${say(across[1] - across[0])} wide${holes}${edge}.`;
  const shown = places.shown === places.places ? `${places.shown}` : `${places.shown} of ${places.places}`;
  return `${head}, ${SAID.inPlaces}: ${shown} ${places.places === 1 ? 'place' : 'places'}${holes}${edge}.`;
}

/** Sizes with their unit: a template is read away from the sheet that says it. */
const sayOf = (desk: Desk, { shown, behind }: Lying): Saying =>
  new Saying(
    desk.plan.edition.numbers,
    (length) => ({ kind: 'size', size: printed(length, desk.plan.edition.numbers) }),
    shown,
    behind,
  );

/** The board as it lies on its sheet, so that its left end and its upper edge are the same there and here. */
function lyingOn(desk: Desk, row: CutListRow, copy: Copy): Lying {
  const sheet = partSheets(desk).find(({ rows }) => rows.some((one) => one.row === row));
  return lyingOf(desk, { id: '', copy, rows: sheet?.rows ?? [{ row, copies: [copy], handed: 0 }] });
}

/** The pattern of a board with the face up that its sheet shows; a mirror image as it is. @param asked true where the author wants one */
function patternOf(desk: Desk, lying: Lying, asked: boolean): Found | undefined {
  const { copy } = lying;
  const solid = desk.parts.get(copy.id);
  if (!solid || solid.vertices.length === 0) return undefined;
  const part = { ...solid, frame: copy.frame };
  // The jig of pocket holes finds its place by the edge: they alone aren't worth the paper.
  const shapes = copy.shape.filter((one) => asked || one.kind !== 'hole' || one.name !== 'pocket');
  const say = sayOf(desk, lying);
  const face = patternFace('face', copy);
  if (isSawnToShape(copy)) {
    const outline = shapedOutline(part, copy, desk.input.solids);
    if (outline.loops.length === 0) return undefined;
    const across: Pattern['across'] = [0, copy.size.width];
    const bores = boresOn(face, copy, shapes, say, false);
    // The solid's outline is that of the board as it is; what is bored counts in its own frame.
    const bored: Pattern = {
      outline: { ...outline, loops: [], holes: [], rims: [], inner: [], centres: [] },
      bores,
      folds: [],
      notes: [],
      across,
    };
    return { kind: 'curved', pattern: { ...bored, outline: { ...outline, holes: [], rims: [] } } };
  }
  const wide = sawnFace(face, copy, shapes, desk.input.solids, say);
  if (wide.outline.loops.length === 0) return undefined;
  const side = edgeOf(shapes);
  const edge =
    side !== undefined && (asked || wide.shaped || slantsThrough(shapes))
      ? sawnFace(patternFace(side, copy), copy, shapes, desk.input.solids, say)
      : undefined;
  // An edge is worth its paper where something is to be marked there.
  const marked =
    edge &&
    edge.outline.loops.length > 0 &&
    (edge.shaped || (asked && boresOn(edge.face, copy, shapes, say, true).length > 0));
  const faces = marked ? [wide, edge] : [wide];
  return {
    kind: wide.shaped || (edge?.shaped === true && slantsThrough(shapes)) ? 'shaped' : 'plain',
    pattern: together(faces, copy, shapes, say),
  };
}

/** True where a wide face is tapered: then the outline of the wide face alone doesn't say how the board is sawn. */
const slantsThrough = (shapes: readonly ShapeOperation[]): boolean =>
  shapes.some((one) => one.kind === 'saw' && one.taper && (one.side === 'face' || one.side === 'reverse'));

/** The edge to fold out: the one that the saw leaves straight and square, the lower where both are; none where both are bevelled. */
function edgeOf(shapes: readonly ShapeOperation[]): 'low edge' | 'high edge' | undefined {
  const cuts = shapes.flatMap((one) => (one.kind === 'saw' ? [one] : []));
  const worst = (side: 'low edge' | 'high edge'): number => {
    const own = cuts.filter((one) => one.side === side);
    return own.some((one) => !one.taper) ? 2 : own.length > 0 ? 1 : 0;
  };
  const [low, high] = [worst('low edge'), worst('high edge')];
  if (Math.min(low, high) > 1) return undefined;
  return high < low ? 'high edge' : 'low edge';
}

/** The wide face, and the edge beside it, as one pattern. */
function together(
  faces: readonly SawnFace[],
  copy: Copy,
  shapes: readonly ShapeOperation[],
  say: Saying,
): Pattern {
  const [wide, edge] = faces as [SawnFace, SawnFace?];
  const outlines = faces.map((one) => one.outline);
  const at = edge?.face.side === 'high edge' ? copy.size.width : 0;
  return {
    outline: {
      ...wide.outline,
      min: [0, 1].map((k) => Math.min(...outlines.map((one) => one.min[k as 0 | 1]))) as [number, number],
      max: [0, 1].map((k) => Math.max(...outlines.map((one) => one.max[k as 0 | 1]))) as [number, number],
      loops: outlines.flatMap((one) => one.loops).filter(({ pieces }) => Math.abs(signedArea(pieces)) > 0.01),
      inner: outlines.flatMap((one) => one.inner),
    },
    bores: faces.flatMap((one) => boresOn(one.face, copy, shapes, say, true)),
    folds: edge
      ? wide.outline.loops.flatMap(({ pieces }) =>
          pieces.flatMap((piece): Segment[] =>
            Math.abs(piece.from[1] - at) < 1e-6 && Math.abs(piece.to[1] - at) < 1e-6
              ? [[piece.from, piece.to]]
              : [],
          ),
        )
      : [],
    notes: faces.flatMap((one) => [...angleNotes(one, say), ...one.depths]),
    across: [
      Math.min(...faces.map((one) => one.face.across[0])),
      Math.max(...faces.map((one) => one.face.across[1])),
    ],
  };
}
