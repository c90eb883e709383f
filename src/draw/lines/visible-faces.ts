/**
 * The visible part of each face, as exact polygons: what a face has left when everything in front of it is taken off. No
 * painting from back to front, so tints never show through and flush boards keep their own faces.
 */
import type { Loop, Solids } from '../../geometry/manifold.ts';
import type { PlacedPart } from '../../geometry/types.ts';
import type { ViewFace, ViewFrame } from '../types.ts';
import { convexRest, type Plate, plateOf } from './convex-rest.ts';
import { boxesMeet, boxOf, boxOfAll, type Cover, type FlatFace, flatPart, TOUCH } from './covers.ts';
import { loopArea, loopLength, tidyLoop } from './flat.ts';
import { project } from './project.ts';
import { frameKey } from './seen.ts';
import { Sight } from './sights.ts';
import { smoothGroups } from './smooth-groups.ts';

/** Points of a loop closer than this to the straight way, mm, are rounding. */
const TIDY = 1e-4;
/** Loops that are thinner than this on average, mm, are rounding. */
const THIN = 2e-3;

/**
 * The visible faces of a view, in the order of the parts and of their faces; millimetres of the piece, before scale. Only the
 * copies in `of` get faces where it is given; all parts hide.
 */
export function viewFaces(
  parts: readonly PlacedPart[],
  frame: ViewFrame,
  solids: Pick<Solids, 'uncovered' | 'united'>,
  of?: ReadonlySet<string>,
): ViewFace[] {
  const key = frameKey(frame);
  const flat = parts.map((part) => flatPart(part, frame, key));
  const left = (face: FlatFace, covers: readonly Cover[]): readonly Loop[] =>
    restOf(face, covers, solids)
      .map((loop) => tidyLoop(loop, TIDY))
      .filter(isBroad);
  return flat.flatMap((own) => {
    const { part } = own;
    if (of !== undefined && !of.has(part.copy)) return [];
    const seen = Sight.of(own, key).among(flat, solids, left);
    const groups = smoothGroups(part);
    const grain = project(part.frame.length, frame);
    return own.faces.flatMap((face, i): ViewFace[] => {
      const loops = seen[i] as readonly Loop[];
      if (loops.length === 0) return [];
      const smooth = groups?.[face.number];
      const { role, normal, offset, round } = face.face;
      return [
        {
          copy: part.copy,
          role,
          normal,
          loops,
          grain,
          ...(smooth === undefined ? {} : { smooth }),
          ...(round === undefined ? {} : { surface: { round, offset } }),
        },
      ];
    });
  });
}

/** What covers leave of a face. The kernel is asked only where several of them cut it, or one with corners that point inward. */
function restOf(
  face: FlatFace,
  covers: readonly Cover[],
  solids: Pick<Solids, 'uncovered'>,
): readonly Loop[] {
  const loopsOf = (list: readonly Cover[]) => list.map((cover) => cover.loops);
  if (covers.length === 0) return face.loops;
  if (!face.face.convex) return solids.uncovered(face.loops, loopsOf(covers));
  const plates: Plate[] = [];
  const plain: Cover[] = [];
  const open: Cover[] = [];
  for (const cover of covers) {
    const plate = plateOf(cover.loops);
    if (plate === undefined) open.push(cover);
    else {
      plates.push(plate);
      plain.push(cover);
    }
  }
  const rest = convexRest(face.loops[0] as Loop, plates, TOUCH);
  if (rest === undefined) return solids.uncovered(face.loops, loopsOf(covers));
  const boxes = rest.pieces.map(boxOf);
  const others = open.filter((cover) => {
    const box = boxOfAll(cover.loops);
    return boxes.some((own) => boxesMeet(own, box));
  });
  if (others.length === 0 && rest.pieces.length <= 1) return rest.pieces;
  const needed = [...plain.filter((_, i) => rest.took.has(i)), ...others];
  return needed.length === 0 ? face.loops : solids.uncovered(face.loops, loopsOf(needed));
}

const isBroad = (loop: Loop): boolean =>
  loop.length >= 3 && (2 * Math.abs(loopArea(loop))) / Math.max(loopLength(loop), 1e-9) > THIN;
