/** An enlarged detail of a step: what is too small to read in the picture, in a circle of its own with a letter. */
import { text } from '../../text.ts';
import type { Desk } from '../desk.ts';
import { clipPicture } from '../lines/clip.ts';
import { setLine, textAt } from '../paper/lettering.ts';
import { boxOfMark, type Mark, moved, segmentsOf, textQuad } from '../paper/marks.ts';
import { circleArc } from '../paper/paper-arcs.ts';
import { type Box, distance, quadOfBox, shapesMeet } from '../paper/plane.ts';
import { onPaper, type PaperView, stepMarks } from '../shading/shade.ts';
import type { Point, Room } from '../types.ts';

/** Holes narrower than this on paper are shown enlarged, mm. */
const SMALL = 1.4;
/** A mouth narrower than this for its length is that of a pocket or a slot; a round hole seen from a corner is wider. */
const LONG = 0.5;
/** Circle of the enlarged detail and of the place it shows, mm. */
const RADIUS = 15;
const ENLARGED = 3;

/** The detail of the small holes that a step's boards come with; nothing where all can be read or no clear place is left. */
export function detailMarks(
  desk: Desk,
  view: PaperView,
  added: ReadonlySet<string>,
  around: { readonly marks: readonly Mark[]; readonly room: Room },
): Mark[] {
  const own = RADIUS / ENLARGED;
  const spot = clearSpot(smallHoles(view, added), own, around.marks);
  if (!spot) return [];
  const boxes = around.marks.map(boxOfMark);
  const letter = ['X', 'Y', 'Z'].find((one) => !desk.input.cutList.rows.some((row) => row.letter === one));
  if (letter === undefined) return [];
  const ring: Mark = { kind: 'arcs', role: 'thin', arcs: [circleArc(spot, own)] };
  const tag = tagBeside(letter, spot, own, around.marks);
  const place = freePlace(tag ? [...around.marks, tag, ring] : around.marks, boxes, around.room, [spot, own]);
  if (!tag || !place) return [];
  return [ring, tag, ...enlarged(view, spot, own, place, letter, added)];
}

/** The middles of the small pockets and slots of new boards that are seen, the highest in the picture first; none where all can be read. */
function smallHoles(view: PaperView, added: ReadonlySet<string>): Point[] {
  const small = (view.picture.arcs ?? []).filter(
    (arc) =>
      !arc.hidden &&
      arc.to - arc.from > Math.PI * 0.8 &&
      arc.radii[1] * 2 * view.ratio < SMALL &&
      // a bored hole is a dot, and looks no different three times as large
      arc.radii[1] < LONG * arc.radii[0] &&
      arc.copies.some((copy) => added.has(copy)),
  );
  return small.map((arc) => view.point(arc.centre)).sort((a, b) => a[1] - b[1] || a[0] - b[0]);
}

/** How far from the middle of its circle a hole may be, mm. */
const ASIDE = [0, 1, 2, 3];

/** Where the circle round a hole touches no balloon and no text: about the first hole that has such a place. */
export function clearSpot(
  holes: readonly Point[],
  radius: number,
  marks: readonly Mark[],
): Point | undefined {
  const circles = marks.flatMap((mark) => (mark.kind === 'circle' && mark.radius > 1 ? [mark] : []));
  const quads = marks.flatMap((mark) => (mark.kind === 'text' ? [textQuad(mark)] : []));
  const clear = (at: Point): boolean =>
    circles.every((one) => distance(one.centre, at) > one.radius + radius + 0.5) &&
    quads.every((quad) => !shapesMeet(quad, ringQuad(at, radius), 0.5));
  for (const hole of holes)
    for (const aside of ASIDE)
      for (let turn = 0; turn < (aside === 0 ? 1 : 8); turn++) {
        const angle = (turn * Math.PI) / 4;
        const at: Point = [hole[0] + aside * Math.cos(angle), hole[1] + aside * Math.sin(angle)];
        if (clear(at)) return at;
      }
  return undefined;
}

/** The square round a circle. */
const ringQuad = ([x, y]: Point, radius: number) =>
  quadOfBox({ left: x - radius, top: y - radius, right: x + radius, bottom: y + radius });

/** The detail's letter beside its circle, clear of all lines and texts. */
function tagBeside(letter: string, at: Point, radius: number, marks: readonly Mark[]): Mark | undefined {
  const set = setLine([text(letter)], undefined, 600);
  const lines = marks.flatMap(segmentsOf);
  const quads = marks.flatMap((mark) =>
    mark.kind === 'text' ? [textQuad(mark)] : mark.kind === 'circle' ? [quadOfBox(boxOfMark(mark))] : [],
  );
  for (const far of [3, 4.5, 6, 9])
    for (let turn = 0; turn < 16; turn++) {
      const angle = (turn * Math.PI) / 8 - Math.PI / 4;
      const centre: Point = [
        at[0] + (radius + far) * Math.cos(angle),
        at[1] + (radius + far) * Math.sin(angle),
      ];
      const mark = textAt(set, [centre[0], centre[1] + 1.25], { anchor: 'middle' });
      const quad = textQuad(mark);
      if (lines.some((l) => shapesMeet(quad, l, 0.6)) || quads.some((other) => shapesMeet(quad, other, 0.6)))
        continue;
      if (quad.some((corner) => distance(corner, at) < radius + 0.8)) continue;
      return mark;
    }
  return undefined;
}

/** A clear place for the enlarged circle: beside the picture, within the room. */
function freePlace(
  marks: readonly Mark[],
  boxes: readonly Box[],
  room: Room,
  [spot]: readonly [Point, number],
): Point | undefined {
  const whole = boxes.reduce((a, b) => ({
    left: Math.min(a.left, b.left),
    top: Math.min(a.top, b.top),
    right: Math.max(a.right, b.right),
    bottom: Math.max(a.bottom, b.bottom),
  }));
  const points = marks.flatMap((mark): Point[] => {
    if (mark.kind === 'lines') return mark.lines.flat().concat(mark.lines.flatMap(between));
    if (mark.kind === 'fill')
      return mark.loops.flatMap((loop) => [...loop, ...between([...loop, loop[0] as Point])]);
    if (mark.kind === 'circle') return [mark.centre];
    const box = boxOfMark(mark);
    return [
      [box.left, box.top],
      [box.right, box.bottom],
      [box.left, box.bottom],
      [box.right, box.top],
    ];
  });
  const need = RADIUS + 3;
  let best: { at: Point; cost: number } | undefined;
  const [spareX, spareY] = [
    room.width - 1 - (whole.right - whole.left),
    room.height - 1 - (whole.bottom - whole.top),
  ];
  for (
    let x = whole.left + RADIUS - Math.max(0, spareX);
    x <= whole.right - RADIUS + Math.max(0, spareX);
    x += 3
  )
    for (
      let y = whole.top + RADIUS - Math.max(0, spareY);
      y <= whole.bottom - RADIUS - 6 + Math.max(0, spareY);
      y += 3
    ) {
      const grown =
        Math.max(whole.right, x + RADIUS) - Math.min(whole.left, x - RADIUS) > room.width - 1 ||
        Math.max(whole.bottom, y + RADIUS + 7) - Math.min(whole.top, y - RADIUS) > room.height - 1;
      if (grown) continue;
      // The words below the circle stand clear too.
      if (
        points.some(
          (p) => distance(p, [x, y]) < need || (Math.abs(p[0] - x) < 18 && p[1] > y && p[1] < y + RADIUS + 8),
        )
      )
        continue;
      const cost = distance([x, y], spot);
      if (!best || cost < best.cost) best = { at: [x, y], cost };
    }
  return best?.at;
}

/** Points along lines, close enough together that no circle passes between them. */
const between = (points: readonly Point[]): Point[] =>
  points.slice(1).flatMap((b, i): Point[] => {
    const a = points[i] as Point;
    const count = Math.min(60, Math.floor(distance(a, b) / 4));
    return Array.from({ length: count }, (_, k): Point => {
      const t = (k + 1) / (count + 1);
      return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    });
  });

function enlarged(
  view: PaperView,
  spot: Point,
  own: number,
  at: Point,
  letter: string,
  added: ReadonlySet<string>,
): Mark[] {
  const { picture, ratio } = view;
  const centre: Point = [spot[0] / ratio + picture.min[0], picture.max[1] - spot[1] / ratio];
  const clipped = clipPicture(picture, { kind: 'circle', centre, radius: own / ratio });
  const marks = stepMarks(onPaper(clipped, ratio * ENLARGED), added);
  const words = setLine([text(`${letter}, ${ENLARGED} times as large`)]);
  return [
    ...moved(marks, at[0] - RADIUS, at[1] - RADIUS),
    { kind: 'arcs', role: 'thin', arcs: [circleArc(at, RADIUS)] },
    textAt(words, [at[0], at[1] + RADIUS + 2 + words.ascent], { anchor: 'middle' }),
  ];
}
