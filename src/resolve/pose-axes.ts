/** How a board lies that leans or slopes: its unit vectors from the angles the author gives. */
import { fault } from '../diagnostics.ts';
import type { Direction, Face } from '../read/types.ts';
import { type Context, numberOf } from './context.ts';
import { DIRECTIONS, directionOf, FACES_OF, isLow } from './directions.ts';
import type { PartFacts } from './facts.ts';
import { add, cross, dot, scale, type Triple, unit } from './vectors.ts';

/** Steeper than this from upright or level, in degrees, isn't leaning any more. */
const STEEPEST = 80;

/** The piece's axis of a direction. */
export const axisOf = (direction: Direction): Triple =>
  DIRECTIONS.map((one) => (one === direction ? 1 : 0)) as unknown as Triple;

/** Unit vectors of a board. */
export interface Axes {
  readonly length: Triple;
  readonly width: Triple;
  readonly thickness: Triple;
}

/** Of a board that stands along the axes: length towards right, back or top; thickness out of the wide face. */
export function straightAxes({ source, wideFace }: PartFacts): Axes {
  const length = axisOf(source.runs.value);
  const thickness = scale(axisOf(directionOf(wideFace)), isLow(wideFace) ? -1 : 1);
  return { length, thickness, width: cross(thickness, length) };
}

/** The unit vectors of a leaning or sloping part; undefined after a report. */
export function leanAxes(context: Context, facts: PartFacts): Axes | undefined {
  const { source, thickAlong } = facts;
  const { lean, key, runs } = source;
  if (!lean) return straightAxes(facts);
  return context.graph.value(`${key}.${lean.kind}`, lean.origin, (): Axes | undefined => {
    const wrong = (id: string, expected: string, found: string, hint: string): undefined => {
      context.report(fault(id, lean.origin, { expected, found, hint, parts: [key] }));
      return undefined;
    };
    const given = Object.entries(lean.angles) as [Face, (typeof lean.angles)[Face]][];
    if (given.length === 0)
      return wrong('lean.none', `a face and an angle for "${lean.kind}"`, 'none', 'left: 8 deg');
    const out: [number, number] = [0, 0];
    const seen = new Set<Direction>();
    for (const [face, written] of given) {
      if (!written) continue;
      const name = `${key}.${lean.kind} to the ${face}`;
      const angle = numberOf(context, name, written, 'angle', written.origin, (value) =>
        Math.abs(value) < STEEPEST
          ? undefined
          : fault('lean.steep', written.origin, {
              expected: `less than ${STEEPEST} deg`,
              found: `${Number(value.toFixed(2))} deg`,
              hint: 'let the part run the other way',
              parts: [key],
            }),
      );
      if (angle === undefined) return undefined;
      const along = directionOf(face);
      if (seen.has(along))
        return wrong('lean.both', `one of ${FACES_OF[along].join(' and ')}`, 'both', `leave ${face} out`);
      seen.add(along);
      out[along === 'across' ? 0 : 1] = (isLow(face) ? -1 : 1) * Math.tan((angle * Math.PI) / 180);
    }
    const flat = straightAxes(facts);
    if (lean.kind === 'slope') {
      if (thickAlong !== 'up')
        return wrong(
          'lean.slope',
          '"slope" for a part that lies flat',
          `one whose wide face looks to the ${facts.wideFace}`,
          `a board on edge or on end leans: write lean:, or wide face: top`,
        );
      const rises = dot(flat.length, [out[0], out[1], 0]);
      const length = unit(add(flat.length, [0, 0, -rises]));
      const thickness = unit(scale([out[0], out[1], 1], flat.thickness[2]));
      return { length, thickness, width: cross(thickness, length) };
    }
    if (thickAlong === 'up')
      return wrong(
        'lean.lying',
        '"lean" for a part that stands',
        'a board that lies flat',
        'a lying board slopes: write slope:',
      );
    const upward = unit([-out[0], -out[1], 1]);
    if (runs.value === 'up') {
      // Level lines of its wide face keep along the piece's axis, so that a level board lies flat on it.
      const raw = unit(cross(upward, flat.width));
      const thickness = scale(raw, dot(raw, flat.thickness) < 0 ? -1 : 1);
      return { length: upward, thickness, width: cross(thickness, upward) };
    }
    const along = Math.abs(dot(flat.length, [out[0], out[1], 0]));
    if (along > 1e-9)
      return wrong(
        'lean.along',
        `"${key}", which runs ${runs.value}, to lean ${FACES_OF[thickAlong].join(' or ')}`,
        `a lean along its length`,
        'for a board that climbs along its length write brace: from and to',
      );
    const width = scale(upward, flat.width[2]);
    return { length: flat.length, width, thickness: cross(flat.length, width) };
  });
}
