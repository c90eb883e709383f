/**
 * The solid kernel: the only file that names manifold-3d. Plain data goes in and comes out; every handle is freed here,
 * whatever happens, because the kernel's memory isn't collected.
 */
import type { CrossSection, Manifold, ManifoldToplevel } from 'manifold-3d';
import type { Bounds, Vec3 } from '../model/types.ts';
import type { Shaping, Tool } from './tools.ts';

/** A closed surface without face names: vertices in mm, triangles counter-clockwise from outside. */
export interface Body {
  readonly vertices: readonly Vec3[];
  readonly triangles: readonly (readonly [number, number, number])[];
}

/** A shaped blank: of each triangle the tool it comes from (0 is the blank, then the shapings in order) and that tool's face. */
export interface ShapedBody extends Body {
  readonly tool: readonly number[];
  readonly face: readonly number[];
  /** True where the surface came from a cut, so the tool's normal points into the solid. */
  readonly reversed: readonly boolean[];
  /** mm³, as the kernel measures it. */
  readonly volume: number;
}

/** A closed polygon of the view plane, mm. */
export type Loop = readonly (readonly [number, number])[];

/** Where two bodies are in each other. Lengths in mm. */
export interface Overlap {
  readonly volume: number;
  /** Twice the volume over the surface: how thick the shared body is on average. A touch has next to none. */
  readonly thickness: number;
  readonly bounds: Bounds;
}

/** What the kernel does for the program. */
export interface Solids {
  /** Shapes a blank, in order. An empty result has no triangles. */
  shape(blank: Tool, shapings: readonly Shaping[]): ShapedBody;
  /** For each pair of indices the body they share; undefined where they share none. */
  overlaps(bodies: readonly Body[], pairs: readonly (readonly [number, number])[]): (Overlap | undefined)[];
  /** The outline of all bodies together, looked at along z: outer loops counter-clockwise, holes clockwise. */
  shadow(bodies: readonly Body[]): Loop[];
  /** What is left of a polygon (outer loops counter-clockwise, holes clockwise) under those that cover it. */
  uncovered(polygon: readonly Loop[], covers: readonly (readonly Loop[])[]): Loop[];
  /** The union of polygons. */
  united(polygons: readonly (readonly Loop[])[]): Loop[];
}

/** Loads the kernel. Once a run is enough: it holds no state between calls. */
export async function loadSolids(): Promise<Solids> {
  const { default: load } = await import('manifold-3d');
  const kernel = await load();
  kernel.setup();
  return {
    shape: (blank, shapings) => shape(kernel, blank, shapings),
    overlaps: (bodies, pairs) => overlaps(kernel, bodies, pairs),
    shadow: (bodies) => shadow(kernel, bodies),
    uncovered: (polygon, covers) => uncovered(kernel, polygon, covers),
    united: (polygons) => united(kernel, polygons),
  };
}

/** Runs a piece of work and frees what it kept, also when it fails. */
function freeing<T>(work: (keep: <H extends { delete(): void }>(handle: H) => H) => T): T {
  const kept: { delete(): void }[] = [];
  try {
    return work((handle) => {
      kept.push(handle);
      return handle;
    });
  } finally {
    for (const handle of kept) handle.delete();
  }
}

/**
 * A body as the kernel's solid. With an id and face numbers, its triangles can be told apart in what is made of it. What is no
 * closed surface (a size of nothing, a drill without a radius) is an empty solid: the phases before have said what is wrong.
 */
function solidOf(
  kernel: ManifoldToplevel,
  body: Body,
  named?: { id: number; face: readonly number[] },
): Manifold {
  const vertProperties = new Float32Array(body.vertices.length * 3);
  body.vertices.forEach((p, i) => {
    vertProperties.set(p, i * 3);
  });
  const triVerts = new Uint32Array(body.triangles.length * 3);
  body.triangles.forEach((t, i) => {
    triVerts.set(t, i * 3);
  });
  const mesh = new kernel.Mesh({
    numProp: 3,
    vertProperties,
    triVerts,
    ...(named === undefined
      ? {}
      : {
          faceID: Uint32Array.from(named.face),
          runOriginalID: Uint32Array.of(named.id),
          runIndex: Uint32Array.of(0, triVerts.length),
        }),
  });
  try {
    return new kernel.Manifold(mesh);
  } catch {
    return kernel.Manifold.union([]);
  }
}

function shape(kernel: ManifoldToplevel, blank: Tool, shapings: readonly Shaping[]): ShapedBody {
  return freeing((keep) => {
    const tools = [blank, ...shapings.map((s) => s.tool)];
    const firstId = kernel.Manifold.reserveIDs(tools.length);
    const made = tools.map((tool, i) => keep(solidOf(kernel, tool, { id: firstId + i, face: tool.face })));
    let solid = made[0] as Manifold;
    // Cuts in a row are made in one go, which is much faster than one by one.
    for (let i = 0; i < shapings.length; ) {
      if (shapings[i]?.does === 'keep') {
        solid = keep(kernel.Manifold.intersection(solid, made[i + 1] as Manifold));
        i++;
        continue;
      }
      const run = [solid];
      while (i < shapings.length && shapings[i]?.does === 'cut') run.push(made[++i] as Manifold);
      solid = keep(kernel.Manifold.difference(run));
    }
    const mesh = solid.getMesh();
    const merged = mergedVertices(mesh.numVert, mesh.mergeFromVert, mesh.mergeToVert);
    const vertices: Vec3[] = [];
    for (let i = 0; i < mesh.numVert; i++) {
      const [x = 0, y = 0, z = 0] = mesh.vertProperties.subarray(i * mesh.numProp, i * mesh.numProp + 3);
      vertices.push([x, y, z]);
    }
    const triangles: [number, number, number][] = [];
    const tool: number[] = [];
    const face: number[] = [];
    const reversed: boolean[] = [];
    for (let run = 0; run < mesh.runOriginalID.length; run++) {
      const from = (mesh.runIndex[run] as number) / 3;
      const to = (mesh.runIndex[run + 1] as number) / 3;
      for (let t = from; t < to; t++) {
        const corner = (k: number) => merged[mesh.triVerts[t * 3 + k] as number] as number;
        triangles.push([corner(0), corner(1), corner(2)]);
        tool.push((mesh.runOriginalID[run] as number) - firstId);
        face.push(mesh.faceID[t] as number);
        reversed.push(((mesh.runFlags[run] ?? 0) & 1) === 1);
      }
    }
    return { vertices, triangles, tool, face, reversed, volume: solid.volume() };
  });
}

/** For each vertex the one it stands for. */
function mergedVertices(count: number, from: Uint32Array, to: Uint32Array): number[] {
  const merged = Array.from({ length: count }, (_, i) => i);
  from.forEach((vertex, i) => {
    merged[vertex] = to[i] as number;
  });
  return merged;
}

function overlaps(
  kernel: ManifoldToplevel,
  bodies: readonly Body[],
  pairs: readonly (readonly [number, number])[],
): (Overlap | undefined)[] {
  return freeing((keep) => {
    const made = new Map<number, Manifold>();
    const solid = (index: number): Manifold => {
      const known = made.get(index);
      if (known) return known;
      const fresh = keep(solidOf(kernel, bodies[index] as Body));
      made.set(index, fresh);
      return fresh;
    };
    return pairs.map(([first, second]) =>
      freeing((keepShort) => {
        const shared = keepShort(kernel.Manifold.intersection(solid(first), solid(second)));
        if (shared.isEmpty()) return undefined;
        const volume = shared.volume();
        const box = shared.boundingBox();
        return {
          volume,
          thickness: (2 * volume) / Math.max(shared.surfaceArea(), 1e-9),
          bounds: { min: [...box.min] as unknown as Vec3, max: [...box.max] as unknown as Vec3 },
        };
      }),
    );
  });
}

function shadow(kernel: ManifoldToplevel, bodies: readonly Body[]): Loop[] {
  return freeing((keep) => {
    const shadows = bodies.map((body) => keep(keep(solidOf(kernel, body)).project()));
    return shadows.length === 0 ? [] : loopsOf(keep(kernel.CrossSection.union(shadows)));
  });
}

function uncovered(
  kernel: ManifoldToplevel,
  polygon: readonly Loop[],
  covers: readonly (readonly Loop[])[],
): Loop[] {
  return freeing((keep) => {
    const flat = (loops: readonly Loop[]) => keep(new kernel.CrossSection(writable(loops), 'Positive'));
    const rest = kernel.CrossSection.difference([flat(polygon), ...covers.map(flat)]);
    return loopsOf(keep(rest));
  });
}

function united(kernel: ManifoldToplevel, polygons: readonly (readonly Loop[])[]): Loop[] {
  return freeing((keep) => {
    const flat = polygons.map((loops) => keep(new kernel.CrossSection(writable(loops), 'Positive')));
    return flat.length === 0 ? [] : loopsOf(keep(kernel.CrossSection.union(flat)));
  });
}

const writable = (loops: readonly Loop[]): [number, number][][] =>
  loops.map((loop) => loop.map(([u, v]) => [u, v]));

const loopsOf = (flat: CrossSection): Loop[] =>
  flat.toPolygons().map((loop) => loop.map(([u, v]) => [u, v] as const));
