/** Parts turned about a line, as a lid or a door stands open. */
import type { PlacedPart } from '../../geometry/types.ts';
import { add, dot, subtract } from '../../geometry/vectors.ts';
import { isBeyond } from '../../instructions/request-open.ts';
import type { DrawingRequest } from '../../instructions/types.ts';
import type { Vec3 } from '../../model/types.ts';
import { Desk } from '../desk.ts';

/** A turn about a line along one of the piece's axes: by Rodrigues' formula, which is a plane rotation there. */
function turner({ point, axis, angle }: NonNullable<DrawingRequest['open']>) {
  const [cos, sin] = [Math.cos((angle * Math.PI) / 180), Math.sin((angle * Math.PI) / 180)];
  const vector = (v: Vec3): Vec3 => {
    const turned: [number, number, number] = [...v];
    const [i, j] = [(axis + 1) % 3, (axis + 2) % 3] as [0 | 1 | 2, 0 | 1 | 2];
    turned[i] = v[i] * cos - v[j] * sin;
    turned[j] = v[i] * sin + v[j] * cos;
    return turned;
  };
  return { vector, point: (p: Vec3): Vec3 => add(point, vector(subtract(p, point))) };
}

/** A part turned as a whole. */
export function turnedPart(part: PlacedPart, open: NonNullable<DrawingRequest['open']>): PlacedPart {
  const turn = turner(open);
  const vertices = part.vertices.map(turn.point);
  const { frame } = part;
  const reach = (of: (...values: number[]) => number): Vec3 => [
    of(...vertices.map((v) => v[0])),
    of(...vertices.map((v) => v[1])),
    of(...vertices.map((v) => v[2])),
  ];
  return {
    ...part,
    frame: {
      ...frame,
      origin: turn.point(frame.origin),
      length: turn.vector(frame.length),
      width: turn.vector(frame.width),
      thickness: turn.vector(frame.thickness),
    },
    vertices,
    faces: part.faces.map((face) => {
      const normal = turn.vector(face.normal);
      // The foot of the plane, turned, still lies in it.
      const foot = turn.point([
        face.normal[0] * face.offset,
        face.normal[1] * face.offset,
        face.normal[2] * face.offset,
      ]);
      const { round } = face;
      return {
        ...face,
        normal,
        offset: dot(normal, foot),
        ...(round === undefined
          ? {}
          : { round: { ...round, origin: turn.point(round.origin), axis: turn.vector(round.axis) } }),
      };
    }),
    bounds: { min: reach(Math.min), max: reach(Math.max) },
  };
}

/** The turn of a board: that of the hinge that is named, or its mirror image where the board lies beyond the middle of a pair of doors. */
function turnOf(part: PlacedPart, open: NonNullable<DrawingRequest['open']>): typeof open {
  const { mirror, point, axis, angle } = open;
  if (mirror === undefined || !isBeyond(part.bounds, open)) return open;
  const there: [number, number, number] = [...point];
  there[mirror.axis] = 2 * mirror.middle - point[mirror.axis];
  // A mirror across the line turns the other way; one along it was refused where it was read.
  return { ...open, point: there, angle: mirror.axis === axis ? angle : -angle };
}

/** Copies shown: parts and assemblies by key, all where none are named. */
export function copiesShown(desk: Desk, request: DrawingRequest): string[] {
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

/** Desks with something open, so that cover, plate and the drawing itself share their pictures. */
const opened = new WeakMap<Desk, Map<string, Desk>>();

/** A desk with the piece as the request has it: closed, or with some parts turned. */
export function deskFor(desk: Desk, { open }: DrawingRequest): Desk {
  if (open === undefined) return desk;
  const known = opened.get(desk) ?? new Map<string, Desk>();
  opened.set(desk, known);
  const key = JSON.stringify(open);
  const made =
    known.get(key) ??
    new Desk({
      ...desk.input,
      parts: desk.input.parts.map((part) =>
        open.parts.includes(part.part) ? turnedPart(part, turnOf(part, open)) : part,
      ),
      fittings: desk.fittings.map((one) => {
        const on = desk.parts.get(one.fitting?.on ?? '');
        return on && open.parts.includes(on.part) ? turnedPart(one, turnOf(on, open)) : one;
      }),
    });
  known.set(key, made);
  return made;
}
