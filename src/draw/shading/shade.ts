/** A projected view turned into fills and lines on paper: the finished piece in wood tones, or a step in grey and blue. */

import { isMetal } from '../../geometry/fittings.ts';
import type { PlacedPart } from '../../geometry/types.ts';
import type { Vec3 } from '../../model/types.ts';
import { joinedLoops } from '../lines/joined-loops.ts';
import { project } from '../lines/project.ts';
import { type FillRole, type LineRole, line, type Mark } from '../paper/marks.ts';
import { type PaperArc, paperArc } from '../paper/paper-arcs.ts';
import { chain, type Segment } from '../paper/plane.ts';
import type { Point, ViewArc, ViewFace, ViewPicture } from '../types.ts';
import { endFrame, grainStrokes, ringArcs } from './grain.ts';
import { type Tone, tonedPieces } from './tones.ts';

type Loops = readonly (readonly Point[])[];

/** A view at a scale, its left top corner at the origin: takes points of the view or of the piece to paper. */
export interface PaperView {
  readonly picture: ViewPicture;
  /** Paper mm for one mm of the view. */
  readonly ratio: number;
  readonly point: (p: Point) => Point;
  readonly space: (p: Vec3) => Point;
  readonly width: number;
  readonly height: number;
}

export function onPaper(picture: ViewPicture, ratio: number): PaperView {
  const point = ([u, v]: Point): Point => [(u - picture.min[0]) * ratio, (picture.max[1] - v) * ratio];
  return {
    picture,
    ratio,
    point,
    space: (p) => point(project(p, picture.frame)),
    width: (picture.max[0] - picture.min[0]) * ratio,
    height: (picture.max[1] - picture.min[1]) * ratio,
  };
}

const WOOD: readonly FillRole[] = ['wood-top', 'wood-front', 'wood-side'];
/** Hardware is white and light grey, but for pegs of wood. */
const METAL: readonly FillRole[] = ['standing', 'standing-end', 'standing-end'];
const NEW: readonly FillRole[] = ['new-top', 'new-front', 'new-side'];

/** Below this width a pictorial takes thinner lines, mm. */
export const SMALL = 80;

const joinedIn = new WeakMap<ViewPicture, Map<string, Loops>>();

/**
 * The faces of a picture on paper with their fills; those of a copy that run into each other and are filled alike come as one, with the first.
 * `fillOf` gives a face its fill, of a curve by the tone of each of its pieces.
 */
function fillsOf(
  view: PaperView,
  fillOf: (face: ViewFace, tone: Tone) => FillRole,
): { readonly face: ViewFace; readonly fill: FillRole; readonly loops: Loops }[] {
  const { picture } = view;
  const groups = new Map<string | ViewFace, { face: ViewFace; fill: FillRole; shapes: Loops[] }>();
  for (const face of picture.faces)
    for (const { tone, loops } of tonedPieces(face, picture.frame)) {
      const fill = fillOf(face, tone);
      const key = face.smooth === undefined ? face : `${fill} ${face.smooth} ${face.copy}`;
      const known = groups.get(key);
      if (known) known.shapes.push(loops);
      else groups.set(key, { face, fill, shapes: [loops] });
    }
  // A picture is set on paper several times, until all of a drawing fits.
  const joined = joinedIn.get(picture) ?? new Map<string, Loops>();
  joinedIn.set(picture, joined);
  return [...groups].map(([key, { face, fill, shapes }]) => {
    const had = typeof key === 'string' ? joined.get(key) : undefined;
    const whole = had ?? joinedLoops(shapes);
    if (typeof key === 'string') joined.set(key, whole);
    return { face, fill, loops: whole.map((loop) => loop.map(view.point)) };
  });
}

/** Boards in wood tones: grain, rings, thin edges. */
export function woodMarks(view: PaperView, parts: ReadonlyMap<string, PlacedPart>): Mark[] {
  const { picture } = view;
  const fills: Mark[] = [];
  const wood: Mark[] = [];
  const fitted = (face: ViewFace): boolean => parts.get(face.copy)?.fitting !== undefined;
  const fillOf = (face: ViewFace, tone: Tone): FillRole =>
    fitted(face) && !parts.get(face.copy)?.fitting?.wooden
      ? (METAL[tone] as FillRole)
      : face.role === 'end'
        ? 'wood-end'
        : (WOOD[tone] as FillRole);
  for (const { face, fill, loops } of fillsOf(view, fillOf)) {
    const end = face.role === 'end';
    fills.push({ kind: 'fill', fill, loops });
    if (fitted(face)) continue;
    const part = parts.get(face.copy);
    const name = `${face.copy} ${face.normal.map((n) => n.toFixed(2)).join(' ')}`;
    if (end && part) {
      const size = extents(part);
      wood.push(...ringArcs(loops, endFrame(part.frame, face.normal, size.length, view.space), size, name));
    } else if (!end)
      wood.push(
        ...grainStrokes(
          loops,
          view.point([face.grain[0] + picture.min[0], picture.max[1] + face.grain[1]]),
          name,
        ),
      );
  }
  return [...fills, ...wood, ...edgeMarks(view)];
}

/** The edges of boards in wood tones, without their tones. */
export const edgeMarks = (view: PaperView): Mark[] => lineMarks(view, roleIn(view));

/** The role of lines of what is shown in full: hardware of metal is small, so its lines are thin in a large picture too. */
const roleIn =
  (view: PaperView) =>
  (copies: readonly string[]): LineRole =>
    view.width < SMALL || copies.every(isMetal) ? 'pictorial-small' : 'pictorial';

/** The finished piece: wood tones and a strong outline. */
export function finishedMarks(view: PaperView, parts: ReadonlyMap<string, PlacedPart>): Mark[] {
  const { picture } = view;
  const outline = picture.lines
    .filter((l) => l.outline && !l.hidden && !l.copies.every(isMetal))
    .map((l): Segment => [view.point(l.a), view.point(l.b)]);
  const role = view.width < SMALL ? 'outline-small' : 'outline';
  const round = (picture.arcs ?? [])
    .filter((arc) => arc.outline && !arc.hidden && !arc.copies.every(isMetal))
    .map((arc) => onView(view, arc));
  return [
    ...woodMarks(view, parts),
    line(role, ...chain(outline)),
    ...(round.length > 0 ? [{ kind: 'arcs' as const, role, arcs: round } as Mark] : []),
  ];
}

/** Length, width and thickness of a part's blank, from its solid: extents along its frame. */
function extents(part: PlacedPart): { length: number; width: number; thickness: number } {
  const along = (axis: Vec3): number => {
    const values = part.vertices.map((v) => v[0] * axis[0] + v[1] * axis[1] + v[2] * axis[2]);
    return Math.max(...values) - Math.min(...values);
  };
  return {
    length: along(part.frame.length),
    width: along(part.frame.width),
    thickness: along(part.frame.thickness),
  };
}

/** A step: what stands in white with thin grey lines, what is added tinted with ink lines. */
export function stepMarks(view: PaperView, added: ReadonlySet<string>): Mark[] {
  const full = roleIn(view);
  const fillOf = (face: ViewFace, tone: Tone): FillRole => {
    const end = face.role === 'end';
    if (!added.has(face.copy)) return end ? 'standing-end' : 'standing';
    return end ? 'new-end' : (NEW[tone] as FillRole);
  };
  const fills = fillsOf(view, fillOf).map(({ fill, loops }): Mark => ({ kind: 'fill', fill, loops }));
  const role = (copies: readonly string[]): LineRole =>
    copies.some((copy) => added.has(copy)) ? full(copies) : 'standing';
  return [...fills, ...lineMarks(view, role)];
}

/** Visible lines, standing ones first so that the added lie on top. */
function lineMarks(view: PaperView, role: (copies: readonly string[]) => LineRole): Mark[] {
  const byRole = new Map<LineRole, Segment[]>();
  for (const l of view.picture.lines) {
    if (l.hidden) continue;
    const key = role(l.copies);
    const list = byRole.get(key) ?? [];
    list.push([view.point(l.a), view.point(l.b)]);
    byRole.set(key, list);
  }
  const round = new Map<LineRole, PaperArc[]>();
  for (const arc of view.picture.arcs ?? []) {
    if (arc.hidden) continue;
    const key = role(arc.copies);
    round.set(key, [...(round.get(key) ?? []), onView(view, arc)]);
  }
  return (['standing', 'pictorial-small', 'pictorial'] as const).flatMap((key): Mark[] => {
    const list = byRole.get(key);
    const arcs = round.get(key);
    return [
      ...(list ? [line(key, ...chain(list))] : []),
      ...(arcs ? [{ kind: 'arcs' as const, role: key, arcs }] : []),
    ];
  });
}

const onView = (view: PaperView, arc: ViewArc): PaperArc => paperArc(arc, view.ratio, view.point(arc.centre));
