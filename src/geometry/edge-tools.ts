/**
 * What rounding and chamfering take off along an outline or round a hole: the cutter's profile swept along the way, as one closed surface.
 * Along a plane wall a rounding is a cylinder, along a curved one a ring; a chamfer is a plane or a cone. Facets are plane, since each side of
 * the way is moved parallel to itself; only in corners they are split.
 */
import { type GuidedSide, guidedSide } from '../model/bearing.ts';
import { type Facets, faceOutline, type Wall, type WideSide } from '../model/face-outline.ts';
import { cornerAt, type Guided, type GuidedRun, guidedRuns, wayRound } from '../model/guided.ts';
import { type HoleRim, holeRims } from '../model/hole-rims.ts';
import type { EdgeWork, FlatPoint, ShapeOperation, Side } from '../model/shape.ts';
import { planeOfSide } from '../model/sides.ts';
import type { BlankSize, Vec3 } from '../model/types.ts';
import type { Convex } from '../resolve/convex.ts';
import { slotOutline } from './outlines.ts';
import { facetCount, type Tool, type ToolFace } from './tools.ts';
import type { Round } from './types.ts';
import { acrossAxis, add, cross, dot, norm, scale, subtract, unit } from './vectors.ts';

/** How far the tool reaches out of the wood, mm; less where a bearing or a hole is narrow. */
const BEYOND = 2;
/** Corners of a facet this near to its plane, mm, lie on it. */
const FLAT = 1e-4;

/** What is taken off the face, `in`, at each depth below it, from the face down to the wall; mm. */
type Profile = readonly { readonly in: number; readonly down: number }[];

/** The plane that a tool is made in: points of it, and heights above the face, in the board's own frame. */
interface Place {
  readonly point: (p: FlatPoint, up: number) => Vec3;
  readonly vector: (p: FlatPoint, up: number) => Vec3;
}

/** The outlines that an operation follows, each with its ways. What can't be followed has been said by the phase before. */
function followed(
  work: EdgeWork,
  size: BlankSize,
  hull: Convex<Side>,
  before: readonly ShapeOperation[],
  facets: Facets,
): { readonly wide: WideSide; readonly guided: Guided }[] {
  const cutter = { radius: (work.bearing ?? 0) / 2, size: work.size, sagitta: facets.sagitta(work) };
  return (work.follows ?? []).flatMap(({ wide, towards }) => {
    const outline = faceOutline(wide, size, hull, [...before, work], facets);
    const guided = outline && guidedRuns(outline, towards, cutter);
    return guided && !('kind' in guided) ? [{ wide, guided }] : [];
  });
}

/** Where facets of curved walls have to end, so that the tools of an operation begin and end with them. */
export const stopsOf = (
  work: EdgeWork,
  size: BlankSize,
  hull: Convex<Side>,
  before: readonly ShapeOperation[],
  facets: Facets,
): FlatPoint[] => followed(work, size, hull, before, facets).flatMap(({ guided }) => guided.touches);

/** Tools along the outlines of wide faces. `hull` and `before` are the board as the operation finds it. */
export function followingTools(
  work: EdgeWork,
  size: BlankSize,
  hull: Convex<Side>,
  before: readonly ShapeOperation[],
  facets: Facets,
): Tool[] {
  const profile = profileOf(work, facets.sagitta(work));
  const beyond = Math.min(BEYOND, (work.bearing ?? 0) / 4);
  return followed(work, size, hull, before, facets).flatMap(({ wide, guided }) => {
    const z = planeOfSide(wide, size);
    const sign = wide === 'face' ? 1 : -1;
    const place: Place = {
      point: ([x, y], up) => [x, y, z + sign * up],
      vector: ([x, y], up) => [x, y, sign * up],
    };
    return guided.runs.map((run) => sweptTool(run, profile, work, place, beyond, sign < 0));
  });
}

/** Tools round the rims of holes. */
export function rimTools(
  work: EdgeWork,
  hull: Convex<Side>,
  before: readonly ShapeOperation[],
  facets: Facets,
): Tool[] {
  return (work.holes ?? []).flatMap((side) =>
    holeRims(side, hull, before).map((rim) => {
      const { run, place } = wayOfRim(rim, facets.sagitta(rim.of));
      return sweptTool(
        run,
        profileOf(work, facets.sagitta(work)),
        work,
        place,
        Math.min(BEYOND, rim.radius / 2),
        false,
      );
    }),
  );
}

/** The way round a hole, with the facets that the drill leaves, looked at from outside: the wood on its left. */
function wayOfRim(
  { middles, outward, radius, exit, of }: HoleRim,
  sagitta: number,
): { readonly run: GuidedRun; readonly place: Place } {
  const origin = middles[0] as Vec3;
  const { first, second } = acrossAxis(outward);
  const place: Place = {
    point: ([x, y], up) => add(add(origin, scale(outward, up)), add(scale(first, x), scale(second, y))),
    vector: ([x, y], up) => add(scale(outward, up), add(scale(first, x), scale(second, y))),
  };
  const flat = (p: Vec3): FlatPoint => [dot(subtract(p, origin), first), dot(subtract(p, origin), second)];
  const into = exit ? outward : scale(outward, -1);
  const corners: { readonly at: FlatPoint; readonly wall: Wall }[] = [];
  if (of.kind === 'slot') {
    const [from, to] = (exit ? middles : [of.from, of.to]) as [Vec3, Vec3];
    const centres = [to, from].map(
      (centre): Wall => ({ arc: { centre: flat(centre), radius, hollow: true } }),
    );
    const straights: Wall[] = [{}, {}];
    const { points, end } = slotOutline(from, to, into, radius, sagitta);
    points.forEach((p, i) => {
      const [which, onArc] = end[i] as readonly [number, boolean];
      corners.push({ at: flat(p), wall: (onArc ? centres : straights)[which] as Wall });
    });
  } else {
    const wall: Wall = { arc: { centre: [0, 0], radius, hollow: true } };
    const across = acrossAxis(into);
    const count = facetCount(radius, sagitta);
    for (let i = 0; i < count; i++) {
      const angle = (2 * Math.PI * i) / count;
      const out = add(
        scale(across.first, radius * Math.cos(angle)),
        scale(across.second, radius * Math.sin(angle)),
      );
      corners.push({ at: flat(add(origin, out)), wall });
    }
  }
  // A drill turns about its way into the wood; from outside that is clockwise, which has the wood on the left.
  const sides = corners.map(({ at, wall }, i): GuidedSide => {
    const next = corners[(i + 1) % corners.length] as (typeof corners)[number];
    return guidedSide(exit ? { from: next.at, to: at, of: wall } : { from: at, to: next.at, of: wall });
  });
  return { run: wayRound(exit ? sides.reverse() : sides), place };
}

function profileOf({ name, size }: EdgeWork, sagitta: number): Profile {
  if (name === 'chamfer')
    return [
      { in: size, down: 0 },
      { in: 0, down: size },
    ];
  const count = Math.max(2, facetCount(size, sagitta) / 4);
  return Array.from({ length: count + 1 }, (_, i) => {
    const angle = (Math.PI / 2) * (i / count);
    return { in: i === count ? 0 : size * (1 - Math.sin(angle)), down: size * (1 - Math.cos(angle)) };
  });
}

/** The curved surface that a profile leaves along a wall; none where it is plane. */
function roundAlong(side: GuidedSide, { name, size }: EdgeWork, { point, vector }: Place): Round | undefined {
  const { arc } = side.wall;
  const up = unit(vector([0, 0], 1));
  if (name === 'round') {
    if (arc)
      return {
        origin: point(arc.centre, -size),
        axis: up,
        radius: size,
        ring: arc.radius + (arc.hollow ? size : -size),
      };
    const along = unit(vector([side.to[0] - side.from[0], side.to[1] - side.from[1]], 0));
    const length = Math.hypot(side.to[0] - side.from[0], side.to[1] - side.from[1]);
    const inward: FlatPoint = [(side.from[1] - side.to[1]) / length, (side.to[0] - side.from[0]) / length];
    return {
      origin: point([side.from[0] + inward[0] * size, side.from[1] + inward[1] * size], -size),
      axis: along,
      radius: size,
    };
  }
  if (!arc) return undefined;
  // Outside curves get wider below the face, inside ones narrower.
  return arc.hollow
    ? { origin: point(arc.centre, 0), axis: up, radius: arc.radius + size, widens: 1 }
    : { origin: point(arc.centre, 0), axis: up, radius: arc.radius - size, widens: -1 };
}

/**
 * Sweeps a profile along a run. Its section is the profile and a way back through the air; an open run has a cap at each end. `flipped` where
 * the place turns the other way round, as looked at from below.
 */
function sweptTool(
  run: GuidedRun,
  profile: Profile,
  work: EdgeWork,
  place: Place,
  beyond: number,
  flipped: boolean,
): Tool {
  const { sides, closed } = run;
  const bottom = profile.at(-1)?.down ?? 0;
  const section = [
    { in: profile[0]?.in ?? 0, down: -BEYOND },
    ...profile,
    { in: -beyond, down: bottom },
    { in: -beyond, down: -BEYOND },
  ];
  const vertices: Vec3[] = [];
  const known = new Map<string, number>();
  // Where a rounding is as large as the curve it follows, its upper corners fall together.
  const vertex = (p: Vec3): number => {
    const key = p.map((v) => Math.round(v * 1e6)).join();
    const had = known.get(key);
    if (had !== undefined) return had;
    known.set(key, vertices.length);
    return vertices.push(p) - 1;
  };
  const rows = run.moves.map((_, i) =>
    section.map(({ in: off, down }) => vertex(place.point(cornerAt(run, i, off), -down))),
  );
  const triangles: [number, number, number][] = [];
  const face: number[] = [];
  const faces: ToolFace[] = [];
  const put = (a: number, b: number, c: number): void => {
    if (a === b || b === c || c === a) return;
    triangles.push(flipped ? [a, c, b] : [a, b, c]);
    face.push(faces.length - 1);
  };
  const rounds = new Map<Wall, Round | undefined>();
  const n = section.length;
  sides.forEach((side, i) => {
    const [one, other] = [rows[i], rows[closed ? (i + 1) % rows.length : i + 1]] as [number[], number[]];
    if (!rounds.has(side.wall)) rounds.set(side.wall, roundAlong(side, work, place));
    const round = rounds.get(side.wall);
    const length = Math.hypot(side.to[0] - side.from[0], side.to[1] - side.from[1]);
    const along: FlatPoint = [(side.to[0] - side.from[0]) / length, (side.to[1] - side.from[1]) / length];
    const inward: FlatPoint = [-along[1] * side.share, along[0] * side.share];
    for (let k = 0; k < n; k++) {
      const [p, q] = [section[k], section[(k + 1) % n]] as [(typeof section)[0], (typeof section)[0]];
      const off = q.in - p.in;
      const down = place.vector([inward[0] * off, inward[1] * off], p.down - q.down);
      const turned = unit(cross(place.vector(along, 0), down));
      const normal = flipped ? scale(turned, -1) : turned;
      const [a, b, c, d] = [one[k], other[k], other[(k + 1) % n], one[(k + 1) % n]] as [
        number,
        number,
        number,
        number,
      ];
      const curved = k >= 1 && k < profile.length ? round : undefined;
      const more = { role: 'cut' as const, ...(curved === undefined ? {} : { round: curved }) };
      const offset = dot(normal, vertices[a] as Vec3);
      if ([b, c, d].every((v) => Math.abs(dot(normal, vertices[v] as Vec3) - offset) < FLAT)) {
        faces.push({ normal, offset, ...more });
        put(a, b, c);
        put(a, c, d);
        continue;
      }
      // In a corner a facet of a curve is twisted: two triangles.
      for (const corners of [
        [a, b, c],
        [a, c, d],
      ] as const) {
        const [p0, p1, p2] = corners.map((v) => vertices[v] as Vec3) as [Vec3, Vec3, Vec3];
        const across = cross(subtract(p1, p0), subtract(p2, p0));
        if (norm(across) < 1e-9) continue;
        const own = scale(unit(across), flipped ? -1 : 1);
        faces.push({ normal: own, offset: dot(own, p0), ...more });
        put(...corners);
      }
    }
  });
  if (!closed) {
    // The section is seen whole from its upper outer corner.
    for (const [row, side, start] of [
      [rows[0], sides[0], true],
      [rows.at(-1), sides.at(-1), false],
    ] as [number[], GuidedSide, boolean][]) {
      const along = unit(place.vector([side.to[0] - side.from[0], side.to[1] - side.from[1]], 0));
      const normal = scale(along, start ? -1 : 1);
      faces.push({ normal, offset: dot(normal, vertices[row[0] as number] as Vec3), role: 'cut' });
      const apex = row[n - 1] as number;
      for (let k = 0; k + 2 < n; k++) {
        const [a, b] = [row[k], row[k + 1]] as [number, number];
        if (start) put(apex, a, b);
        else put(apex, b, a);
      }
    }
  }
  return { vertices, triangles, face, faces };
}
