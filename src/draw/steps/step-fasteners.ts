/** Fasteners of a step: a small cross where each goes in, seen on the face it is driven through, and how many there are. */
import { dot, scale } from '../../geometry/vectors.ts';
import type { JointPlace } from '../../joinery/types.ts';
import type { Vec3 } from '../../model/types.ts';
import type { Line } from '../../text.ts';
import { text } from '../../text.ts';
import type { Desk } from '../desk.ts';
import { line, type Mark } from '../paper/marks.ts';
import { distanceToSegment, inside, type Segment, sidesOf } from '../paper/plane.ts';
import type { PaperView } from '../shading/shade.ts';
import type { Point } from '../types.ts';

/** Length of the strokes of a cross, mm. */
const CROSS = 1.9;

export interface FastenerMarks {
  readonly marks: readonly Mark[];
  /** What is driven in, how many in all, and where they are seen. */
  readonly notes: readonly { readonly text: Line; readonly tips: readonly Point[] }[];
}

const NONE: FastenerMarks = { marks: [], notes: [] };

/** Marks of the fasteners that a step drives in; those driven from a side that isn't seen have none. */
export function fastenerMarks(
  desk: Desk,
  step: number,
  view: PaperView,
  shown: ReadonlySet<string>,
): FastenerMarks {
  const places = (desk.input.joinery.bySteps.get(step) ?? []).filter(
    ({ contact }) => shown.has(contact.first) && shown.has(contact.second),
  );
  if (places.length === 0) return NONE;
  const crosses: Segment[] = [];
  const seen = new Map<string, Point[]>();
  const counts = new Map<string, number>();
  for (const place of places) {
    const name = place.joint.by;
    if (name === 'glue' || place.fastener === undefined) continue;
    counts.set(name, (counts.get(name) ?? 0) + place.count);
    for (const head of headsOf(desk, place)) {
      const face = view.picture.faces.find(
        (each) =>
          each.copy === place.contact.first &&
          dot(each.normal, head.out) > 0.7 &&
          inside(
            view.point(projected(view, head.at)),
            each.loops.map((loop) => loop.map(view.point)),
          ),
      );
      if (!face) continue;
      const centre = view.space(head.at);
      const sides = sidesOf(face.loops.map((loop) => loop.map(view.point)));
      const strokes = strokesAt(view, head.at, head.out);
      // A cross on the very edge of what is seen would look like a part of it.
      if (Math.min(...sides.map((side) => distanceToSegment(centre, side))) < 0.15) continue;
      crosses.push(...strokes);
      seen.set(name, [...(seen.get(name) ?? []), centre]);
    }
  }
  const notes = [...seen].map(([name, tips]) => ({
    text: [text(`${counts.get(name) ?? tips.length} ${name}`)] as Line,
    tips: tips.slice(0, 12),
  }));
  return { marks: crosses.length === 0 ? [] : [line('thin', ...crosses)], notes };
}

const projected = (view: PaperView, p: Vec3): Point => [
  dot(p, view.picture.frame.right),
  dot(p, view.picture.frame.up),
];

/** Where the fasteners of a joint enter the first board, and the way out of it there. Pockets are holes and drawn as such. */
function headsOf(desk: Desk, place: JointPlace): { at: Vec3; out: Vec3 }[] {
  if (place.joint.by === 'pocket screws') return [];
  const part = desk.parts.get(place.contact.first);
  if (!part) return [];
  return (place.points ?? []).flatMap(({ at, axis }) => {
    // Back along its way until it leaves the board: the furthest face that it crosses.
    let far = 0;
    for (const face of part.faces) {
      const speed = -dot(face.normal, axis);
      if (speed < 0.2) continue;
      far = Math.max(far, (face.offset - dot(face.normal, at)) / speed);
    }
    if (!(far > 0.5)) return [];
    const back = scale(axis, -far);
    return [{ at: [at[0] + back[0], at[1] + back[1], at[2] + back[2]] as Vec3, out: scale(axis, -1) }];
  });
}

/** Two strokes in the plane of the face, along the axes of the piece that lie in it. */
function strokesAt(view: PaperView, at: Vec3, out: Vec3): Segment[] {
  const axes: Vec3[] = [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ];
  return axes
    .filter((axis) => Math.abs(dot(axis, out)) < 0.5)
    .map((axis): Segment => {
      const reach = (sign: number): Vec3 => {
        const by = scale(axis, (sign * CROSS) / 2 / view.ratio / 0.82);
        return [at[0] + by[0], at[1] + by[1], at[2] + by[2]];
      };
      return [view.space(reach(-1)), view.space(reach(1))];
    });
}
