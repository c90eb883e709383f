/**
 * What joints by housing cut: in the neighbour a housing of exactly the section of the end that goes in, and off that end what a stopped
 * housing leaves no room for. Convex bodies in doubles, so that boards that lean get the walls and the floor that their ends ask for.
 */
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import type { Face } from '../read/types.ts';
import { type Convex, cornersOf, cutConvex, type Plane, reach } from '../resolve/convex.ts';
import { FACES, FACES_OF } from '../resolve/directions.ts';
import { figure } from '../resolve/quantities.ts';
import type { HousedEnd, ResolvedPlan } from '../resolve/types.ts';
import { dot, scale } from '../resolve/vectors.ts';
import { shapedEnd, workedSection } from './end-shape.ts';
import {
  ALONG,
  type Board,
  boardOf,
  edgeAgainst,
  endGaps,
  endsAgainst,
  extentsOf,
  gapsOf,
  MEETS,
  nearestWords,
  OPEN,
  overhang,
  planeFrom,
  runsOut,
  sectionIn,
} from './housing-fit.ts';
import { layoutOf, openSides } from './housing-layout.ts';
import type { BoxCut, ShapeOperation, Side } from './shape.ts';
import { axisOfSide, faceOfSide, outwardOf, SIDES, sideOf } from './sides.ts';
import type { Housed, Part, Vec3 } from './types.ts';

type Report = (diagnostic: Diagnostic) => void;

/** The parts with what their housings cut; faults are reported, each once a joint. */
export function housedParts(parts: readonly Part[], plan: ResolvedPlan, report: Report): readonly Part[] {
  if (!plan.source.joints.some((joint) => joint.by.value === 'housing')) return parts;
  const boards = new Map(parts.map((part) => [part.key, part.copies.map((copy) => boardOf(part, copy))]));
  const told = new Set<string>();
  const once = (joint: number) => (diagnostic: Diagnostic) => {
    const key = `${joint} ${diagnostic.id}`;
    if (!told.has(key)) report(diagnostic);
    told.add(key);
  };
  const cuts = new Map<string, ShapeOperation[]>();
  const housed = new Map<string, Housed[]>();
  for (const resolved of plan.parts) {
    const { key } = resolved.source;
    const own = boards.get(key) ?? [];
    for (const end of resolved.housed) {
      const others = boards.get(end.to) ?? [];
      const made = own.flatMap((board) => cutEnd(board, end, others, plan, once(end.joint)));
      for (const [id, cut] of made) cuts.set(id, [...(cuts.get(id) ?? []), cut]);
      const face = FACES_OF[resolved.runs][end.end === 'low' ? 0 : 1];
      housed.set(key, [...(housed.get(key) ?? []), { face, depth: end.depth, into: end.to }]);
    }
  }
  for (const [index] of plan.source.joints.entries()) unmet(index, plan, boards, once(index));
  return parts.map((part) => {
    const ends = housed.get(part.key);
    return {
      ...part,
      ...(ends ? { housed: ends } : {}),
      copies: part.copies.map((copy) => {
        const more = cuts.get(copy.id);
        return more ? { ...copy, shape: [...copy.shape, ...more] } : copy;
      }),
    };
  });
}

/** A joint's places in the plan and its words. */
const jointOf = (plan: ResolvedPlan, index: number) => {
  const joint = plan.source.joints[index];
  if (!joint) throw new Error(`no joint ${index}`);
  return joint;
};

/** An operation as a thing: `a notch`, `a rounded edge`. */
const cutWords = (one: ShapeOperation): string =>
  one.kind === 'edge'
    ? `a ${one.name === 'round' ? 'rounded' : 'chamfered'} edge`
    : `${/^[aeiou]/u.test(one.called) ? 'an' : 'a'} ${one.called}`;

const sideOfEnd = ({ end }: HousedEnd): Side => (end === 'low' ? 'start' : 'end');

/** Cuts the housings of one end of a board, and what a stop takes off that end; each with the copy it is cut into. */
function cutEnd(
  board: Board,
  end: HousedEnd,
  others: readonly Board[],
  plan: ResolvedPlan,
  report: Report,
): (readonly [string, BoxCut])[] {
  const joint = jointOf(plan, end.joint);
  const { numbers } = plan.edition;
  const side = sideOfEnd(end);
  const face = faceOfSide(board.part, side);
  const parts = [end.to, board.part.key];
  const shaped = shapedEnd(board.copy, side, end.depth);
  if (shaped) {
    report(
      fault('joint.end', shaped.origin, {
        expected: `the ${face} end of "${board.part.key}" left as it is, since it goes into its housing in "${end.to}"`,
        found: `${cutWords(shaped)} there`,
        hint: 'leave it out at that end, or write the housing as shape: of the other part instead of a joint',
        parts,
      }),
    );
    return [];
  }
  const plane = board.hull.find((one) => one.name === side);
  if (!plane) return [];
  const found = others.flatMap((other) => {
    const met = meeting(board, plane, end.depth, other);
    return met ? [{ other, ...met }] : [];
  });
  const deep = found.find(({ thick }) => thick <= end.depth + MEETS);
  if (deep) {
    report(
      fault('joint.depth', joint.depth?.origin ?? joint.origin, {
        expected: `a depth less than the ${figure(deep.thick, numbers)} of "${end.to}" there`,
        found: figure(end.depth, numbers),
        hint: `a third of it is usual: ${figure(deep.thick / 3, numbers)}`,
        parts,
      }),
    );
    return [];
  }
  const made = found.flatMap(({ other, against }) => housingIn(board, end, other, against, plan, report));
  if (made.length === 0 && found.length === 0)
    report(
      fault('joint.apart', joint.origin, {
        expected: `the ${face} end of "${board.part.key}" flat against a face of "${end.to}"`,
        found: nearestWords(
          // What goes in is no part of the way to the neighbour.
          gapsOf(board, { ...plane, offset: plane.offset - end.depth }, others),
          (length) => figure(length, numbers),
        ),
        hint: 'move one of the two so that the whole end looks at the other',
        parts,
      }),
    );
  return made;
}

/** The face of another board that an end goes into so deep, and how thick that board is there; nothing where it doesn't. */
function meeting(
  board: Board,
  end: Plane,
  depth: number,
  other: Board,
): { readonly against: Convex<Side>[number]; readonly thick: number } | undefined {
  const floor = planeFrom(board, other, end);
  const against = other.hull.find(
    (face) => dot(face.normal, floor.normal) < -ALONG && Math.abs(face.offset + floor.offset - depth) < MEETS,
  );
  if (!against || !sectionIn(board, other)) return undefined;
  const thick = against.offset - reach(cornersOf(other.hull), against.normal).low;
  return { against, thick };
}

/** A housing in another board, and the notch that a stop asks for in the end. */
function housingIn(
  board: Board,
  end: HousedEnd,
  other: Board,
  against: Convex<Side>[number],
  plan: ResolvedPlan,
  report: Report,
): (readonly [string, BoxCut])[] {
  const joint = jointOf(plan, end.joint);
  const common = { called: 'housing', origin: joint.origin } as const;
  const stops = stopsOf(end, other, against.name, plan, report);
  if (!stops) return [];
  const corners = cornersOf(other.hull);
  const walls = board.hull
    .filter((face) => face.name !== (end.end === 'low' ? 'end' : 'start'))
    .map((face) => ({ side: face.name, plane: planeFrom(board, other, face) }));
  const bounding = [...walls.map((wall) => wall.plane), ...stops.map((stop) => stop.plane)].filter(
    ({ normal, offset }) => reach(corners, normal).high > offset + OPEN,
  );
  const asked = new Set(stops.map((stop) => stop.plane));
  const planes = bounding.filter((plane) => asked.has(plane) || !runsOut(plane, bounding, other));
  let body: Convex<Side | 'wall'> = other.hull;
  for (const one of planes) body = cutConvex(body, one, 'wall' as const);
  const [stop] = stops;
  if (body.length === 0) {
    report(
      fault('joint.stopped', stop?.origin ?? joint.origin, {
        expected: `a housing in "${end.to}" that stops beyond the near edge of "${board.part.key}"`,
        found: stop
          ? `${figure(stop.before, plan.edition.numbers)} from its ${stop.face}, which leaves none`
          : 'none',
        hint: 'give a smaller distance',
        parts: [end.to, board.part.key],
      }),
    );
    return [];
  }
  const housing: BoxCut = {
    ...common,
    kind: 'box',
    name: 'housing',
    side: against.name,
    face: faceOfSide(other.part, against.name),
    depth: end.depth,
    ...extentsOf(planes, body),
    ...layoutOf(
      board,
      other,
      against,
      planes.filter(({ normal }) => dot(normal, against.normal) > -ALONG),
      body,
    ),
    joint: { part: board.part.name },
  };
  const beyond = overhang(board, sideOfEnd(end), other, against.name);
  if (beyond)
    report({
      id: 'joint.overhang',
      severity: 'warning',
      origin: joint.origin,
      message: `expected the whole end of "${board.part.key}" on the face of "${end.to}", found ${figure(beyond.by, plan.edition.numbers)} of it beyond the ${faceOfSide(other.part, beyond.side)}`,
      hint: `move or narrow it: what stands out there is longer by the depth too, and lies before the edge of "${end.to}"`,
      parts: [board.part.key, end.to],
    });
  const inside = (own: Vec3): boolean => {
    const p = other.place.ownPoint(board.place.point(own));
    return planes.every(({ normal, offset }) => dot(normal, p) <= offset + OPEN);
  };
  const worked = workedSection(board, sideOfEnd(end), end.depth, inside);
  if (worked)
    report({
      id: 'joint.section',
      severity: 'warning',
      origin: worked.origin,
      message: `expected the whole section of "${board.part.key}" where it goes into "${end.to}", found ${cutWords(worked)} that runs out there, which the housing shows as a gap`,
      hint:
        worked.kind === 'edge'
          ? `leave it square, or end the housing before it: stopped: { ${faceOfSide(other.part, 'low edge')}: 1/2 in | 12 mm }`
          : 'end it before the housing',
      parts: [board.part.key, end.to],
    });
  const notches = stops.flatMap((one) => notchAt(board, other, against, one, joint.origin));
  return [[other.copy.id, housing], ...notches.map((cut) => [board.copy.id, cut] as const)];
}

interface Stop {
  readonly face: Face;
  readonly before: number;
  readonly origin: Origin;
  /** In the neighbour's own frame, outward from the housing. */
  readonly plane: Plane;
}

/** The planes before which a housing stops; undefined after a report. */
function stopsOf(
  end: HousedEnd,
  other: Board,
  into: Side,
  plan: ResolvedPlan,
  report: Report,
): readonly Stop[] | undefined {
  const joint = jointOf(plan, end.joint);
  const stops: Stop[] = [];
  for (const face of FACES) {
    const before = plan.jointStops[end.joint]?.[face];
    if (before === undefined) continue;
    const origin = joint.stopped?.values[face]?.origin ?? joint.origin;
    const side = sideOf(other.part, face);
    if (axisOfSide(side) === axisOfSide(into)) {
      const edges = SIDES.filter((one) => axisOfSide(one) !== axisOfSide(into));
      report(
        fault('joint.stopped', origin, {
          expected: `an edge of "${end.to}" across its ${faceOfSide(other.part, into)}: ${edges.map((one) => faceOfSide(other.part, one)).join(', ')}`,
          found: face,
          hint: 'depth says how deep it is',
          parts: [end.to],
        }),
      );
      return undefined;
    }
    const { normal, offset } = other.hull.find((one) => one.name === side) ?? {
      normal: outwardOf(side),
      offset: reach(cornersOf(other.hull), outwardOf(side)).high,
    };
    stops.push({ face, before, origin, plane: { normal, offset: offset - before } });
  }
  return stops;
}

/** What is cut off an end so that it fits a housing that stops; nothing where the board doesn't reach so far. */
function notchAt(board: Board, other: Board, against: Plane, stop: Stop, origin: Origin): BoxCut[] {
  const shoulder = planeFrom(other, board, against);
  const wall = planeFrom(other, board, stop.plane);
  const planes: Plane[] = [shoulder, { normal: scale(wall.normal, -1), offset: -wall.offset }];
  let body: Convex<Side | 'wall'> = board.hull;
  for (const plane of planes) body = cutConvex(body, plane, 'wall' as const);
  if (body.length === 0) return [];
  return [
    {
      kind: 'box',
      name: 'notch',
      called: 'notch',
      origin,
      ...extentsOf(planes, body),
      stopped: [],
      open: openSides(body).map((side) => faceOfSide(board.part, side)),
      joint: { part: other.part.name },
    },
  ];
}

/** Says of a joint that houses no end why it can't. */
function unmet(
  index: number,
  plan: ResolvedPlan,
  boards: ReadonlyMap<string, readonly Board[]>,
  report: Report,
): void {
  const joint = jointOf(plan, index);
  const [join, to] = [joint.join.text.trim(), joint.to.text.trim()];
  if (joint.by.value !== 'housing' || !boards.has(join) || !boards.has(to)) return;
  if (plan.parts.some((part) => part.housed.some((end) => end.joint === index))) return;
  const part = plan.parts.find((one) => one.source.key === join);
  const ends = part ? FACES_OF[part.runs] : [];
  const [own, others] = [boards.get(join) ?? [], boards.get(to) ?? []];
  const turned = others.some((other) => endsAgainst(other, own).length > 0);
  const edge = turned ? undefined : edgeAgainst(own, others);
  report(
    fault('joint.apart', joint.origin, {
      expected: `an end of "${join}", its ${ends.join(' or ')}, flat against a face of "${to}"`,
      found: turned
        ? `an end of "${to}" against "${join}"`
        : edge
          ? `its ${edge.face} there`
          : nearestWords(
              own.slice(0, 1).flatMap((board) => endGaps(board, others)),
              (length) => figure(length, plan.edition.numbers),
            ),
      hint: turned
        ? `the part whose end goes in comes first: join: ${to}, to: ${join}`
        : edge
          ? `a joint houses ends; for an edge write under shape: of "${to}" - { housing: ${edge.against}, at: …, depth: … }`
          : `write between: ${to}, or give an end as a face of "${to}"`,
      parts: [join, to],
    }),
  );
}
