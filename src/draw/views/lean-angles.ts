/** How far boards lean, in the straight views of the whole piece: an angle at the foot of the outermost board of each kind. */
import type { Plan, Vec3 } from '../../model/types.ts';
import { text } from '../../text.ts';
import { printedAngle } from '../../units.ts';
import type { Desk } from '../desk.ts';
import { project } from '../lines/project.ts';
import type { Obstacles } from '../paper/dimensions.ts';
import type { Mark } from '../paper/marks.ts';
import { angleMarks } from './angles.ts';
import type { StraightView } from './straight.ts';

/** A board that leans less than this in a view stands upright there, degrees. */
const LEAST = 0.3;

/** Angles of leaning boards that run up, each angle once a view. */
export function leanMarks(desk: Desk, view: StraightView, obstacles: Obstacles): Mark[] {
  const { frame } = view.picture;
  if (Math.abs(frame.up[2]) < 0.99) return [];
  const said = new Set<string>();
  const leaning = leaningCopies(desk.plan);
  return leaning.flatMap(({ id, length }): Mark[] => {
    const part = desk.parts.get(id);
    if (!part) return [];
    const up: Vec3 = length[2] < 0 ? [-length[0], -length[1], -length[2]] : length;
    const [across, high] = project(up, frame);
    const angle = (Math.atan2(Math.abs(across), high) * 180) / Math.PI;
    const words = printedAngle(angle);
    if (angle < LEAST || said.has(words)) return [];
    // At the foot, on the side from which the board leans away: there nothing of it stands in the way.
    const low = Math.min(...part.vertices.map((v) => v[2]));
    const feet = part.vertices.filter((v) => v[2] < low + 1);
    const outer = feet.reduce((a, b) => {
      const [p, q] = [project(a, frame)[0], project(b, frame)[0]];
      return across > 0 ? (q < p ? b : a) : q > p ? b : a;
    });
    const marks = angleMarks(
      {
        at: (p) => {
          const [u, v] = project(p, frame);
          return [u * view.ratio, -v * view.ratio];
        },
      },
      {
        corner: outer,
        along: [0, 0, 1],
        cut: up,
        reach: 1e4,
        text: [text(words)],
        of: [`lean of ${part.part}`],
      },
      obstacles,
      view.ratio,
    );
    if (!marks) return [];
    said.add(words);
    return marks;
  });
}

const leaningCopies = (plan: Plan): { id: string; length: Vec3 }[] =>
  plan.parts
    .filter((part) => part.runs === 'up')
    .flatMap((part) => part.copies.map((copy) => ({ id: copy.id, length: copy.frame.length })))
    .filter(({ length }) => Math.abs(length[2]) < 1 - 1e-6);
