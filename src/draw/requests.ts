/** Drawings that the author asks for in the text: a straight view or a pictorial of some of the parts. */

import { sectionParts } from '../geometry/section.ts';
import type { DrawingRequest } from '../instructions/types.ts';
import type { Bounds, Vec3 } from '../model/types.ts';
import type { Viewpoint } from '../read/types.ts';
import { text } from '../text.ts';
import { printedAngle } from '../units.ts';
import { fitted, heldWords, orderOfWork, takeApart } from './apart/exploded.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from './desk.ts';
import { clipPicture, type Window } from './lines/clip.ts';
import { project, viewFrame } from './lines/project.ts';
import { viewPicture } from './lines/view.ts';
import { Obstacles, placeDimensions, type WantedDimension } from './paper/dimensions.ts';
import { hatching } from './paper/hatching.ts';
import { setLine, textAt } from './paper/lettering.ts';
import { boxOfMarks, type Mark, segmentsOf } from './paper/marks.ts';
import { circleArc } from './paper/paper-arcs.ts';
import { viewScales } from './paper/scale.ts';
import { ratioFor, viewpointWords } from './shading/pictorial.ts';
import { finishedMarks, onPaper, type PaperView, woodMarks } from './shading/shade.ts';
import { copiesShown, deskFor } from './shading/turned.ts';
import type { Point, Room, ViewFrame, ViewPicture } from './types.ts';
import { type AxisSize, placeAxisSizes, readableAxes } from './views/axis-dimensions.ts';
import { type PrincipalSize, principalSizes } from './views/principal.ts';
import { edgesOf, sizeInView, straightMarks, straightView } from './views/straight.ts';

/** Room of a requested drawing, mm. */
const ROOM: Room = { width: 125, height: 120 };

/** The drawing of a request; undefined where it shows nothing. */
export function composeRequest(closed: Desk, request: DrawingRequest, place: Place): Composed | undefined {
  const desk = deskFor(closed, request);
  const copies = copiesShown(desk, request);
  if (copies.length === 0) return undefined;
  const room: Room = place === 'narrow' ? { width: NARROW_WIDTH - 1, height: 125 } : ROOM;
  const names = request.show.length === 0 ? desk.plan.front.title : namesOf(desk, copies);
  const apart =
    typeof request.from !== 'string' && request.apart === true && copies.length > 1
      ? takeApart(desk, desk.withFittings(copies), orderOfWork(desk), request.from)
      : undefined;
  const made =
    typeof request.from === 'string'
      ? straight(desk, request, request.from, copies, room)
      : apart
        ? { marks: fitted(desk, apart, room), scale: 'not to scale' }
        : pictorial(desk, request, request.from, copies, room);
  const held = apart ? heldWords(desk, apart) : [];
  const seen = typeof request.from === 'string' ? `from the ${request.from}` : viewpointWords(request.from);
  return {
    id: request.id,
    kind: 'request',
    title: request.caption,
    caption: [text([held.length > 0 ? withStop(request.caption) : request.caption, ...held].join(' '))],
    alt: [`${names}, ${[seen, ...manner(desk, request)].join(', ')}: ${desk.overall(copies)}.`, ...held].join(
      ' ',
    ),
    ...made,
  };
}

/** A caption as a sentence that another can follow. */
const withStop = (caption: string): string => (/[.!?]$/.test(caption) ? caption : `${caption}.`);

/** What is done with a view besides looking: `cut at 8″`, `enlarged where leg and apron meet`. */
const manner = (desk: Desk, { section, detail, apart, open }: DrawingRequest): string[] => [
  ...(open ? [`open by ${printedAngle(Math.abs(open.angle))}`] : []),
  ...(section ? [`cut at ${desk.words(section.at)}, cut faces hatched`] : []),
  ...(detail
    ? [detail.length > 1 ? `enlarged where ${detail.join(' and ')} meet` : `enlarged at ${detail[0]}`]
    : []),
  ...(apart ? ['taken apart'] : []),
];

const namesOf = (desk: Desk, copies: readonly string[]): string => {
  const keys = new Set(copies.map((copy) => desk.parts.get(copy)?.part));
  const names = desk.plan.parts.filter((part) => keys.has(part.key)).map((part) => part.name.toLowerCase());
  const said = names.join(', ');
  return said === '' ? said : (said[0] as string).toUpperCase() + said.slice(1);
};

/** Sizes for some of the copies: overall ones, or all that the views would carry. */
function sizesFor(desk: Desk, request: DrawingRequest, copies: readonly string[]): readonly PrincipalSize[] {
  // Of a detail only a part is seen, and sizes over all would lead out of it.
  if (request.sizes === 'none' || request.detail) return [];
  const shown = new Map<string, Bounds>();
  for (const copy of copies) {
    const part = desk.parts.get(copy);
    if (part) shown.set(copy, desk.measured(part));
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
  const whole = request.section
    ? sectionPicture(desk, copies, from, request.section.at)
    : desk.picture(desk.withFittings(copies), from);
  const window = windowOf(desk, request, copies, viewFrame(from));
  const picture = window ? clipPicture(whole, window) : whole;
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
    const map = ([u, v]: Point): Point => [u * scale.ratio, -v * scale.ratio];
    const hatch = request.section ? hatching(picture, map) : [];
    const ring: Mark[] = window
      ? [{ kind: 'arcs', role: 'thin', arcs: [circleArc(map(window.centre), window.radius * scale.ratio)] }]
      : [];
    const marks = [...hatch, ...straightMarks(view), ...ring, ...placed.marks];
    const box = boxOfMarks(marks);
    const said = setLine([text('Scale '), ...scale.line]);
    marks.push(textAt(said, [box.left, box.bottom + 6 + said.ascent], { quiet: true }));
    made = { marks, scale: scale.label };
    const all = boxOfMarks(marks);
    if (all.right - all.left <= room.width - 1 && all.bottom - all.top <= room.height - 1) break;
  }
  return made;
}

const ringOf = (window: Circle, view: PaperView): Mark => ({
  kind: 'arcs',
  role: 'thin',
  arcs: [circleArc(view.point(window.centre), window.radius * view.ratio)],
});

/** The piece behind a plane across the view, all before it taken away. */
function sectionPicture(
  desk: Desk,
  copies: readonly string[],
  from: Exclude<DrawingRequest['from'], Viewpoint>,
  at: number,
): ViewPicture {
  const frame = viewFrame(from);
  const parts = copies.flatMap((copy) => desk.parts.get(copy) ?? []);
  const offset = at * (frame.toViewer[0] + frame.toViewer[1] + frame.toViewer[2]);
  const left = sectionParts(parts, { normal: frame.toViewer, offset }, desk.input.solids);
  return viewPicture(left, frame, desk.input.solids, { hidden: false, arcs: true });
}

type Circle = Extract<Window, { kind: 'circle' }>;

/** Clear of what a detail shows, mm, and the least that it shows. */
const BESIDE = 12;

/** The circle that a detail shows: about the place where its first two parts come nearest, or about a whole board. */
function windowOf(
  desk: Desk,
  request: DrawingRequest,
  copies: readonly string[],
  frame: ViewFrame,
): Circle | undefined {
  if (!request.detail) return undefined;
  const named = (name: string): Bounds[] =>
    copies.flatMap((copy) => {
      const part = desk.partByKey.get(desk.parts.get(copy)?.part ?? '');
      const bounds = desk.parts.get(copy)?.bounds;
      return bounds && part && (part.key === name || part.assembly === name) ? [bounds] : [];
    });
  const [first, second] = request.detail;
  const boards = named(first ?? '');
  const others = second === undefined ? [] : named(second);
  let best: { bounds: Bounds; gap: number } | undefined;
  for (const a of boards)
    for (const b of others) {
      const shared = shareOf(a, b);
      if (!best || shared.gap < best.gap - 1e-6) best = shared;
    }
  const bounds = best?.bounds ?? boards[0];
  if (!bounds) return undefined;
  const corners = [bounds.min, bounds.max].flatMap((x) =>
    [bounds.min, bounds.max].flatMap((y) =>
      [bounds.min, bounds.max].map((z) => project([x[0], y[1], z[2]], frame)),
    ),
  );
  const us = corners.map(([u]) => u);
  const vs = corners.map(([, v]) => v);
  const centre: Point = [(Math.min(...us) + Math.max(...us)) / 2, (Math.min(...vs) + Math.max(...vs)) / 2];
  const half = Math.hypot(Math.max(...us) - Math.min(...us), Math.max(...vs) - Math.min(...vs)) / 2;
  return { kind: 'circle', centre, radius: half * 1.25 + BESIDE };
}

/** What two boards share, or the space between them, and how far apart they are. */
function shareOf(a: Bounds, b: Bounds): { bounds: Bounds; gap: number } {
  const low = a.min.map((v, i) => Math.max(v, b.min[i] as number));
  const high = a.max.map((v, i) => Math.min(v, b.max[i] as number));
  const gap = Math.hypot(...low.map((v, i) => Math.max(0, v - (high[i] as number))));
  const pick = (of: typeof Math.min): Vec3 => low.map((v, i) => of(v, high[i] as number)) as unknown as Vec3;
  return { bounds: { min: pick(Math.min), max: pick(Math.max) }, gap };
}

function pictorial(
  desk: Desk,
  request: DrawingRequest,
  from: Viewpoint,
  copies: readonly string[],
  room: Room,
): { marks: Mark[]; scale: string } {
  const window = windowOf(desk, request, copies, viewFrame(from));
  const whole = desk.picture(desk.withFittings(copies), from);
  const picture = window ? clipPicture(whole, window) : whole;
  const boxes = copies.flatMap((copy) => desk.parts.get(copy)?.bounds ?? []);
  const readable = readableAxes(viewFrame(from));
  const sizes = sizesFor(desk, request, copies)
    .filter((size) => readable.includes(size.axis))
    .map(
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
    marks = window ? [...woodMarks(view, desk.parts), ringOf(window, view)] : finishedMarks(view, desk.parts);
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
