/** Drawings that the author asks for in the text: a straight view or a pictorial of some of the parts. */
import type { DrawingRequest } from '../instructions/types.ts';
import type { Bounds } from '../model/types.ts';
import type { Viewpoint } from '../read/types.ts';
import { text } from '../text.ts';
import { type AxisSize, placeAxisSizes } from './axis-dimensions.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from './desk.ts';
import { Obstacles, placeDimensions, type WantedDimension } from './dimensions.ts';
import { setLine, textAt } from './lettering.ts';
import { boxOfMarks, type Mark, segmentsOf } from './marks.ts';
import { ratioFor, viewpointWords } from './pictorial.ts';
import { type PrincipalSize, principalSizes } from './principal.ts';
import { viewScales } from './scale.ts';
import { finishedMarks, onPaper } from './shade.ts';
import { edgesOf, sizeInView, straightMarks, straightView } from './straight.ts';
import type { Room } from './types.ts';

/** Room of a requested drawing, mm. */
const ROOM: Room = { width: 125, height: 120 };

/** Copies shown: parts and assemblies by key, all where none are named. */
function copiesShown(desk: Desk, request: DrawingRequest): string[] {
  if (request.show.length === 0) return [...desk.all];
  const keys = desk.plan.parts
    .filter(
      (part) =>
        request.show.includes(part.key) ||
        (part.assembly !== undefined && request.show.includes(part.assembly)),
    )
    .map((part) => part.key);
  return desk.copiesOf(keys);
}

/** The drawing of a request; undefined where it shows nothing. */
export function composeRequest(desk: Desk, request: DrawingRequest, place: Place): Composed | undefined {
  const copies = copiesShown(desk, request);
  if (copies.length === 0) return undefined;
  const room: Room = place === 'narrow' ? { width: NARROW_WIDTH - 1, height: 125 } : ROOM;
  const names = request.show.length === 0 ? desk.plan.front.title : namesOf(desk, copies);
  const made =
    typeof request.from === 'string'
      ? straight(desk, request, request.from, copies, room)
      : pictorial(desk, request, request.from, copies, room);
  const seen = typeof request.from === 'string' ? `from the ${request.from}` : viewpointWords(request.from);
  return {
    id: request.id,
    kind: 'request',
    title: request.caption,
    caption: [text(request.caption)],
    alt: `${names}, ${seen}: ${desk.overall(copies)}.`,
    ...made,
  };
}

const namesOf = (desk: Desk, copies: readonly string[]): string => {
  const keys = new Set(copies.map((copy) => desk.parts.get(copy)?.part));
  const names = desk.plan.parts.filter((part) => keys.has(part.key)).map((part) => part.name.toLowerCase());
  const said = names.join(', ');
  return said === '' ? said : (said[0] as string).toUpperCase() + said.slice(1);
};

/** Sizes for some of the copies: overall ones, or all that the views would carry. */
function sizesFor(desk: Desk, request: DrawingRequest, copies: readonly string[]): readonly PrincipalSize[] {
  if (request.sizes === 'none') return [];
  const shown = new Map<string, Bounds>();
  for (const copy of copies) {
    const bounds = desk.parts.get(copy)?.bounds;
    if (bounds) shown.set(copy, bounds);
  }
  const all = principalSizes(desk.plan, shown, desk.bounds(copies));
  return request.sizes === 'overall' ? all.filter((size) => size.kind === 'overall') : all;
}

function straight(
  desk: Desk,
  request: DrawingRequest,
  from: Exclude<DrawingRequest['from'], Viewpoint>,
  copies: readonly string[],
  room: Room,
): { marks: Mark[]; scale: string } {
  const picture = desk.picture(copies, from);
  const sizes = sizesFor(desk, request, copies);
  let made: { marks: Mark[]; scale: string } = { marks: [], scale: '' };
  for (const scale of viewScales(desk.plan.edition.numbers)) {
    const view = straightView(picture, scale.ratio);
    if (view.box.right - view.box.left > room.width || view.box.bottom - view.box.top > room.height) continue;
    const obstacles = new Obstacles();
    obstacles.lines.push(...edgesOf(view));
    const wanted = sizes.flatMap((size): WantedDimension[] => {
      const spot = sizeInView(picture.frame, scale.ratio, size);
      if (!spot) return [];
      const value = desk.size(size.to - size.from);
      return [
        {
          from: spot.from,
          to: spot.to,
          text: [value],
          sides: spot.direction === 'across' ? ['below', 'above'] : ['left', 'right'],
          must: size.kind === 'overall',
        },
      ];
    });
    const placed = placeDimensions(
      { edges: edgesOf(view, false), box: view.box, floor: from !== 'top' && from !== 'bottom' },
      wanted,
      obstacles,
    );
    const marks = [...straightMarks(view), ...placed.marks];
    const box = boxOfMarks(marks);
    const said = setLine([text('Scale '), ...scale.line]);
    marks.push(textAt(said, [box.left, box.bottom + 6 + said.ascent], { quiet: true }));
    made = { marks, scale: scale.label };
    const whole = boxOfMarks(marks);
    if (whole.right - whole.left <= room.width - 1 && whole.bottom - whole.top <= room.height - 1) break;
  }
  return made;
}

function pictorial(
  desk: Desk,
  request: DrawingRequest,
  from: Viewpoint,
  copies: readonly string[],
  room: Room,
): { marks: Mark[]; scale: string } {
  const picture = desk.picture(copies, from);
  const boxes = copies.flatMap((copy) => desk.parts.get(copy)?.bounds ?? []);
  const sizes = sizesFor(desk, request, copies).map(
    (size): AxisSize => ({
      axis: size.axis,
      from: size.from,
      to: size.to,
      text: [desk.size(size.to - size.from)],
    }),
  );
  let ratio = ratioFor(picture, room);
  let marks: Mark[] = [];
  for (let round = 0; round < 8; round++) {
    const view = onPaper(picture, ratio);
    marks = finishedMarks(view, desk.parts);
    const edges = marks.filter(
      (m) => m.kind === 'lines' && (m.role.startsWith('pictorial') || m.role.startsWith('outline')),
    );
    const surfaces = picture.faces.map((face) => face.loops.map((loop) => loop.map(view.point)));
    const solid = { edges: edges.flatMap(segmentsOf), surfaces };
    marks.push(...placeAxisSizes(view, boxes, sizes, { ...solid, strong: solid, texts: [], lines: [] }));
    const box = boxOfMarks(marks);
    const over = Math.max((box.right - box.left + 1) / room.width, (box.bottom - box.top + 1) / room.height);
    if (over <= 1) break;
    ratio *= Math.max(0.7, 0.985 / over);
  }
  return { marks, scale: 'not to scale' };
}
