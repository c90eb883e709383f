/** What a part's sheet says of holes and slots: their places, equal spacings together, and what is bored in words. */
import type { BlankSize, Vec3 } from '../model/types.ts';
import { type Line, type Run, text } from '../text.ts';
import type { BoardSide } from './board-views.ts';
import {
  type Feature,
  type FeatureSize,
  lengthAlong,
  near,
  type Of,
  placed,
  SAME,
  type Saying,
  spanned,
} from './feature.ts';

type HoleAt = { index: number; shape: Of<'hole'> };

/** The two own axes in which a hole's place on its side is measured, and the view that shows it. */
export function gridOf(side: Of<'hole'>['side']): { on: BoardSide; axes: readonly [0 | 1 | 2, 0 | 1 | 2] } {
  if (side === 'face' || side === 'reverse') return { on: 'face', axes: [0, 1] };
  if (side === 'low edge' || side === 'high edge') return { on: 'edge', axes: [0, 2] };
  return { on: 'end', axes: [1, 2] };
}

/** Alike in everything but their place. */
const kindOfHole = (hole: Of<'hole'>): string =>
  JSON.stringify([
    hole.side,
    hole.name,
    ...[hole.diameter, hole.depth ?? -1, hole.angle].map((v) => v.toFixed(3)),
    hole.leans,
    hole.counterbore ?? 0,
    hole.countersink ?? 0,
    hole.beyond ?? 0,
  ]);

export function holeFeatures(holes: readonly HoleAt[], size: BlankSize, say: Saying): Feature[] {
  const kinds = new Map<string, HoleAt[]>();
  for (const hole of holes)
    kinds.set(kindOfHole(hole.shape), [...(kinds.get(kindOfHole(hole.shape)) ?? []), hole]);
  const sizes = new Map<string, FeatureSize>();
  const features: Feature[] = [];
  for (const alike of kinds.values()) {
    const first = alike[0] as HoleAt;
    const { on, axes } = gridOf(first.shape.side);
    features.push({
      kind: 'note',
      on,
      at: alike.map(({ shape }) => shape.entry),
      round:
        Math.max(
          first.shape.diameter,
          first.shape.counterbore?.diameter ?? 0,
          first.shape.countersink?.diameter ?? 0,
        ) / 2,
      text: holeWords(alike, say),
      of: alike.map(({ index }) => `${index} hole`),
    });
    const rest = rowSizes(alike, on, axes, size, say, features);
    for (const { hole, axis } of rest)
      for (const one of placed(on, axis, hole.shape.entry[axis], size, say, [
        `${hole.index} ${'xyz'[axis]}`,
      ])) {
        const key = `${on} ${axis} ${one.from.toFixed(1)} ${one.to.toFixed(1)}`;
        const known = sizes.get(key);
        // Of several places the one nearest to an end of the board says on which side the size stands.
        sizes.set(
          key,
          known ? { ...known, of: [...known.of, ...one.of] } : { ...one, beside: hole.shape.entry[0] },
        );
      }
  }
  return [...features, ...sizes.values()];
}

/** Equal spacings of three or more holes in line, said as `5 × 60 = 300`; gives the places that are still to be said. */
function rowSizes(
  alike: readonly HoleAt[],
  on: BoardSide,
  axes: readonly [0 | 1 | 2, 0 | 1 | 2],
  size: BlankSize,
  say: Saying,
  features: Feature[],
): { hole: HoleAt; axis: 0 | 1 | 2 }[] {
  const left: { hole: HoleAt; axis: 0 | 1 | 2 }[] = [];
  const done = new Set<string>();
  for (const axis of axes) {
    const other = axes[0] === axis ? axes[1] : axes[0];
    const lines = new Map<string, HoleAt[]>();
    for (const hole of alike) {
      const key = hole.shape.entry[other].toFixed(1);
      lines.set(key, [...(lines.get(key) ?? []), hole]);
    }
    for (const line of lines.values()) {
      const sorted = [...line].sort((a, b) => a.shape.entry[axis] - b.shape.entry[axis]);
      const at = (i: number): number => (sorted[i] as HoleAt).shape.entry[axis];
      const pitch = sorted.length > 1 ? at(1) - at(0) : 0;
      const even = sorted.length > 2 && pitch > 1 && sorted.every((_, i) => near(at(i), at(0) + i * pitch));
      if (!even) {
        for (const hole of line) left.push({ hole, axis });
        continue;
      }
      const spaces = sorted.length - 1;
      const [from, to] = [at(0), at(spaces)];
      const key = `${axis} ${from.toFixed(1)} ${to.toFixed(1)} ${spaces}`;
      // The end of the row that is nearer to an end of the board is the one measured.
      const whole = lengthAlong(size, axis);
      const start = from <= whole - to + SAME ? sorted[0] : sorted[spaces];
      left.push({ hole: start as HoleAt, axis });
      if (done.has(key)) continue;
      done.add(key);
      features.push({
        kind: 'size',
        on,
        axis,
        from,
        to,
        text: [text(`${spaces} × `), say.size(pitch), text(' = '), say.size(to - from)],
        of: sorted.map(({ index }) => `${index} ${'xyz'[axis]} row`),
      });
    }
  }
  return left;
}

/** `4 × Ø 5, through`; `Ø 10, 20 deep`; `2 pocket holes, Ø 9.5, 15°`. */
function holeWords(alike: readonly HoleAt[], say: Saying): Line {
  const { shape } = alike[0] as HoleAt;
  const { counterbore, countersink, beyond } = shape;
  const pocket = shape.name === 'pocket';
  const head: Run[] = pocket
    ? [text(alike.length > 1 ? `${alike.length} pocket holes ` : 'pocket hole ')]
    : alike.length > 1
      ? [text(`${alike.length} × `)]
      : [];
  const line: Run[] = [...head, ...say.diameter(shape.diameter)];
  line.push(
    ...(shape.depth === undefined ? [text(' through')] : [text(', '), say.size(shape.depth), text(' deep')]),
  );
  if (beyond) line.push(text(', then '), ...say.diameter(beyond.diameter));
  if (counterbore)
    line.push(
      text(', counterbore '),
      ...say.diameter(counterbore.diameter),
      text(', '),
      say.size(counterbore.depth),
      text(' deep'),
    );
  if (countersink)
    line.push(
      text(', countersunk '),
      ...say.diameter(countersink.diameter),
      text(`, ${say.angle(countersink.angle)}`),
    );
  // A pocket runs along its face: its jig gives the angle to that, other drills are set out of square.
  if (pocket) line.push(text(`, at ${say.angle(90 - shape.angle)} to the face`));
  else if (shape.angle > 0.01)
    line.push(
      text(
        `, ${say.angle(shape.angle)}${shape.leans.length > 0 ? ` towards the ${shape.leans.join(' and ')}` : ''}`,
      ),
    );
  if (shape.side === 'reverse') line.push(text(', from the back'));
  if (shape.side === 'high edge' || shape.side === 'start')
    line.push(text(shape.side === 'start' ? ', in the left end' : ', in the upper edge'));
  return line;
}

export function slotFeatures(index: number, slot: Of<'slot'>, size: BlankSize, say: Saying): Feature[] {
  const { on, axes } = gridOf(slot.side);
  const [a, b] = axes;
  const middle = slot.from.map((v, i) => (v + (slot.to[i] as number)) / 2) as unknown as Vec3;
  const sizes = ([a, b] as const).flatMap((axis): FeatureSize[] => {
    const [from, to] = [Math.min(slot.from[axis], slot.to[axis]), Math.max(slot.from[axis], slot.to[axis])];
    if (near(from, to)) return placed(on, axis, from, size, say, [`${index} ${'xyz'[axis]}`]);
    return spanned(on, axis, from, to, size, say, `${index}`);
  });
  return [
    {
      kind: 'note',
      on,
      at: [middle],
      round: slot.width / 2,
      text: [
        text('slot '),
        say.size(slot.width),
        text(' wide, '),
        ...(slot.depth === undefined ? [text('through')] : [say.size(slot.depth), text(' deep')]),
      ],
      of: [`${index} slot`],
    },
    ...sizes,
  ];
}
