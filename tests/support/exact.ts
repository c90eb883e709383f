/**
 * The reference for drawings: solids with exact surfaces and their hidden-line projection, by a general-purpose boundary
 * representation kernel (Open CASCADE Technology 7, as the package replicad-opencascadejs compiles it). Used by tests only. It works from
 * the tools a board is shaped with, never from our solids, faces or edges.
 */
import { createRequire } from 'node:module';
import type { AnyShape } from 'replicad';
import init, { type OpenCascadeInstance, type TopoDS_Shape } from 'replicad-opencascadejs';
import type { ViewFrame } from '../../src/draw/types.ts';
import { blankTool, type Shaping, type Tool } from '../../src/geometry/tools.ts';
import type { Round } from '../../src/geometry/types.ts';
import { add, cross, dot, scale, subtract, unit } from '../../src/geometry/vectors.ts';
import type { BlankSize, Frame, Vec3 } from '../../src/model/types.ts';
import { type ExactEdge, edgeBodies } from './exact-edges.ts';

/** A piece of a projected edge as the points along it: two of a straight one. */
export interface Stroke {
  readonly points: readonly (readonly [number, number])[];
  readonly hidden: boolean;
}

/** A solid of the reference kernel. Freed by `free`. */
export interface ExactSolid {
  readonly shape: TopoDS_Shape;
  readonly volume: number;
}

export interface Exact {
  /** A blank with its shapings, in its frame of the piece; mirrored as `placePart` does it. */
  solid(
    size: BlankSize,
    shapings: readonly Shaping[],
    frame: Frame,
    blank?: Tool,
    edges?: readonly ExactEdge[],
  ): ExactSolid;
  /** All edges of all solids as the kernel projects them: duplicates and all. Curves as chords within `sagitta` mm. */
  project(solids: readonly ExactSolid[], frame: ViewFrame, sagitta?: number): Stroke[];
  /** The projection as the kernel's own modelling library (replicad) gives it, for timing: edges as that library's objects. */
  projectOnly(solids: readonly ExactSolid[], frame: ViewFrame): void;
  free(solids: readonly ExactSolid[]): void;
}

type Keep = <H extends { delete(): void }>(handle: H) => H;

function freeing<T>(work: (keep: Keep) => T): T {
  const kept: { delete(): void }[] = [];
  try {
    return work((handle) => {
      kept.push(handle);
      return handle;
    });
  } finally {
    for (const handle of kept.reverse()) handle.delete();
  }
}

/** Loads the reference kernel: 23 MB of compiled code, a second or two. */
export async function loadExact(): Promise<Exact> {
  const wasm = createRequire(import.meta.url).resolve('replicad-opencascadejs/wasm');
  const oc = await init({ locateFile: () => wasm });
  const library = await import('replicad');
  library.setOC(oc as unknown as Parameters<typeof library.setOC>[0]);
  return {
    solid: (size, shapings, frame, blank, edges) => solid(oc, size, shapings, frame, blank, edges),
    project: (solids, frame, sagitta = 0.005) => project(oc, solids, frame, sagitta),
    projectOnly: (solids, frame) => {
      const all = new oc.TopoDS_Compound();
      const builder = new oc.TopoDS_Builder();
      builder.MakeCompound(all);
      for (const each of solids) builder.Add(all, each.shape);
      const shape = library.cast(all) as AnyShape;
      const camera = new library.ProjectionCamera([0, 0, 0], [...frame.toViewer], [...frame.right]);
      const { visible, hidden } = library.makeProjectedEdges(shape, camera);
      for (const edge of [...visible, ...hidden]) edge.delete();
      camera.delete();
      shape.delete();
      builder.delete();
    },
    free: (solids) => {
      for (const each of solids) each.shape.delete();
    },
  };
}

function solid(
  oc: OpenCascadeInstance,
  size: BlankSize,
  shapings: readonly Shaping[],
  frame: Frame,
  blank: Tool = blankTool(size),
  edges: readonly ExactEdge[] = [],
): ExactSolid {
  return freeing((keep) => {
    const toPiece = placer(frame, size);
    let body = keep(bodyOf(oc, keep, blank, toPiece));
    for (const { tool, does } of shapings) {
      const other = keep(bodyOf(oc, keep, tool, toPiece));
      const done = keep(
        does === 'cut' ? new oc.BRepAlgoAPI_Cut(body, other) : new oc.BRepAlgoAPI_Common(body, other),
      );
      if (!done.IsDone()) throw new Error('the reference kernel could not cut');
      body = keep(done.Shape());
    }
    for (const other of edges.flatMap((edge) => edgeBodies(oc, keep, edge, toPiece))) {
      const done = keep(new oc.BRepAlgoAPI_Cut(body, other));
      if (!done.IsDone()) throw new Error('the reference kernel could not work the edge');
      body = keep(done.Shape());
    }
    if (shapings.length > 0) {
      // Two cuts in one plane leave a line in it.
      const tidy = keep(new oc.ShapeUpgrade_UnifySameDomain(body, true, true, false));
      tidy.Build();
      body = keep(tidy.Shape());
    }
    // Cuts don't note where surfaces run into each other; without that, the projection draws such edges as sharp.
    oc.BRepLib.EncodeRegularity(body, (2 * Math.PI) / 180);
    return { shape: copyOf(oc, body), volume: volumeOf(oc, keep, body) };
  });
}

/** A handle of its own, which outlives the scope it was made in. */
function copyOf(oc: OpenCascadeInstance, shape: TopoDS_Shape): TopoDS_Shape {
  const compound = new oc.TopoDS_Compound();
  const builder = new oc.TopoDS_Builder();
  builder.MakeCompound(compound);
  builder.Add(compound, shape);
  builder.delete();
  return compound;
}

function volumeOf(oc: OpenCascadeInstance, keep: Keep, shape: TopoDS_Shape): number {
  const properties = keep(new oc.GProp_GProps());
  oc.BRepGProp.VolumeProperties(shape, properties, false, false, false);
  return properties.Mass();
}

interface Placing {
  readonly point: (p: Vec3) => Vec3;
  readonly turn: (p: Vec3) => Vec3;
}

/** From a board's own frame to the piece's, point and direction: the same reflection as `placePart`. */
function placer(frame: Frame, size: BlankSize): Placing {
  const width = scale(frame.width, frame.mirrored ? -1 : 1);
  const origin = frame.mirrored ? add(frame.origin, scale(frame.width, size.width)) : frame.origin;
  const turn = (p: Vec3): Vec3 =>
    add(add(scale(frame.length, p[0]), scale(width, p[1])), scale(frame.thickness, p[2]));
  return { point: (p) => add(origin, turn(p)), turn };
}

/** A prism tool: its outline, with circles and arcs where its sides stand for a cylinder, swept along its height. */
function bodyOf(oc: OpenCascadeInstance, keep: Keep, tool: Tool, to: Placing): TopoDS_Shape {
  const n = tool.vertices.length / 2;
  const outline = tool.vertices.slice(0, n);
  const along = subtract(tool.vertices[n] ?? [0, 0, 0], outline[0] as Vec3);
  const isPrism = outline.every((p, i) => {
    const off = subtract(subtract(tool.vertices[n + i] ?? [0, 0, 0], p), along);
    return dot(off, off) < 1e-12;
  });
  if (!isPrism || tool.faces.length !== n + 2) return polyhedron(oc, keep, tool, to);
  const rounds = outline.map((_, i) => tool.faces[i + 2]?.round);
  const point = (p: Vec3) => {
    const [x, y, z] = to.point(p);
    return keep(new oc.gp_Pnt(x, y, z));
  };
  const direction = (p: Vec3) => {
    const [x, y, z] = to.turn(p);
    return keep(new oc.gp_Dir(x, y, z));
  };
  const wire = keep(new oc.BRepBuilderAPI_MakeWire());
  const same = (i: number, j: number) => sameRound(rounds[(i + n) % n], rounds[(j + n) % n]);
  if (rounds.every((_, i) => same(i, 0))) {
    const round = rounds[0] as Round;
    // In the outline's own plane, wherever along the axis the round's origin lies.
    const first = outline[0] as Vec3;
    const height = dot(subtract(first, round.origin), round.axis);
    const centre = add(round.origin, scale(round.axis, height));
    const axes = keep(
      new oc.gp_Ax2(point(centre), direction(round.axis), direction(unit(subtract(first, centre)))),
    );
    const circle = keep(new oc.gp_Circ(axes, round.radius));
    wire.Add(keep(keep(new oc.BRepBuilderAPI_MakeEdge(circle)).Edge()));
  } else {
    let start = 0;
    while (start < n && same(start - 1, start)) start++;
    for (let i = 0; i < n; ) {
      let end = i + 1;
      while (end < n && same(start + end - 1, start + end)) end++;
      const [a, b] = [outline[(start + i) % n], outline[(start + end) % n]] as [Vec3, Vec3];
      const round = rounds[(start + i) % n];
      if (round === undefined) {
        wire.Add(keep(keep(new oc.BRepBuilderAPI_MakeEdge(point(a), point(b))).Edge()));
      } else {
        const middle = midArc(outline, start + i, start + end, round);
        const arc = keep(keep(new oc.GC_MakeArcOfCircle(point(a), point(middle), point(b))).Value());
        wire.Add(keep(keep(new oc.BRepBuilderAPI_MakeEdge(arc)).Edge()));
      }
      i = end;
    }
  }
  const face = keep(keep(new oc.BRepBuilderAPI_MakeFace(keep(wire.Wire()), true)).Face());
  const [x, y, z] = to.turn(along);
  const prism = keep(new oc.BRepPrimAPI_MakePrism(face, keep(new oc.gp_Vec(x, y, z))));
  const shape = prism.Shape();
  return volumeOf(oc, keep, shape) < 0 ? keep(shape).Reversed() : shape;
}

/** Any other tool with plane faces, sewn from its triangles; `UnifySameDomain` takes the lines between them out again. */
function polyhedron(oc: OpenCascadeInstance, keep: Keep, tool: Tool, to: Placing): TopoDS_Shape {
  if (tool.faces.some((face) => face.round !== undefined))
    throw new Error('the reference knows no curved tools but prisms');
  const sewing = keep(new oc.BRepBuilderAPI_Sewing(1e-6, true, true, true, false));
  for (const corners of tool.triangles) {
    const wire = keep(new oc.BRepBuilderAPI_MakeWire());
    const points = corners.map((v) => {
      const [x, y, z] = to.point(tool.vertices[v] as Vec3);
      return keep(new oc.gp_Pnt(x, y, z));
    });
    points.forEach((p, i) => {
      const q = points[(i + 1) % 3] as typeof p;
      wire.Add(keep(keep(new oc.BRepBuilderAPI_MakeEdge(p, q)).Edge()));
    });
    sewing.Add(keep(keep(new oc.BRepBuilderAPI_MakeFace(keep(wire.Wire()), true)).Face()));
  }
  sewing.Perform();
  const shell = keep(oc.TopoDS.Shell(keep(sewing.SewedShape())));
  const made = keep(keep(new oc.BRepBuilderAPI_MakeSolid(shell)).Solid());
  const tidy = keep(new oc.ShapeUpgrade_UnifySameDomain(made, true, true, false));
  tidy.Build();
  const shape = tidy.Shape();
  return volumeOf(oc, keep, shape) < 0 ? keep(shape).Reversed() : shape;
}

function sameRound(a: Round | undefined, b: Round | undefined): boolean {
  if (a === undefined || b === undefined) return false;
  if (a === b) return true;
  const between = subtract(b.origin, a.origin);
  const off = subtract(between, scale(a.axis, dot(between, a.axis)));
  return (
    Math.abs(a.radius - b.radius) < 1e-9 &&
    dot(cross(a.axis, b.axis), cross(a.axis, b.axis)) < 1e-18 &&
    dot(off, off) < 1e-12
  );
}

/** A point of the arc between two corners of the outline: a corner between them, or the middle of the only facet pushed outward. */
function midArc(outline: readonly Vec3[], from: number, to: number, round: Round): Vec3 {
  const n = outline.length;
  if (to - from > 1) return outline[Math.floor((from + to) / 2) % n] as Vec3;
  const middle = scale(add(outline[from % n] as Vec3, outline[to % n] as Vec3), 0.5);
  const height = dot(subtract(middle, round.origin), round.axis);
  const centre = add(round.origin, scale(round.axis, height));
  return add(centre, scale(unit(subtract(middle, centre)), round.radius));
}

function projected(
  oc: OpenCascadeInstance,
  keep: Keep,
  solids: readonly ExactSolid[],
  { right, toViewer }: ViewFrame,
) {
  const all = keep(new oc.TopoDS_Compound());
  const builder = keep(new oc.TopoDS_Builder());
  builder.MakeCompound(all);
  for (const each of solids) builder.Add(all, each.shape);
  const algo = keep(new oc.HLRBRep_Algo());
  algo.Add(all, 0);
  const origin = keep(new oc.gp_Pnt(0, 0, 0));
  const axes = keep(new oc.gp_Ax2(origin, keep(new oc.gp_Dir(...toViewer)), keep(new oc.gp_Dir(...right))));
  algo.Projector(keep(new oc.HLRAlgo_Projector(axes)));
  algo.Update();
  algo.Hide();
  return keep(new oc.HLRBRep_HLRToShape(algo));
}

/** Sharp edges and the outlines of curved surfaces; edges where surfaces run into each other are no lines of a drawing. */
function edgesOf(oc: OpenCascadeInstance, keep: Keep, found: ReturnType<typeof projected>) {
  const all = [
    [found.VCompound(), false],
    [found.OutLineVCompound(), false],
    [found.HCompound(), true],
    [found.OutLineHCompound(), true],
  ] as const;
  return all.filter(([compound]) => {
    keep(compound);
    if (compound.IsNull()) return false;
    oc.BRepLib.BuildCurves3d(compound);
    return true;
  });
}

function project(
  oc: OpenCascadeInstance,
  solids: readonly ExactSolid[],
  frame: ViewFrame,
  sagitta: number,
): Stroke[] {
  return freeing((keep) => {
    const strokes: Stroke[] = [];
    for (const [compound, hidden] of edgesOf(oc, keep, projected(oc, keep, solids, frame))) {
      const explorer = keep(
        new oc.TopExp_Explorer(compound, oc.TopAbs_ShapeEnum.TopAbs_EDGE, oc.TopAbs_ShapeEnum.TopAbs_SHAPE),
      );
      for (; explorer.More(); explorer.Next())
        strokes.push({ points: pointsOf(oc, explorer.Current(), sagitta), hidden });
    }
    return strokes;
  });
}

function pointsOf(oc: OpenCascadeInstance, shape: TopoDS_Shape, sagitta: number): [number, number][] {
  return freeing((keep) => {
    const curve = keep(new oc.BRepAdaptor_Curve(keep(oc.TopoDS.Edge(keep(shape)))));
    const [from, to] = [curve.FirstParameter(), curve.LastParameter()];
    const at = (t: number): [number, number] => {
      const p = keep(curve.Value(t));
      return [p.X(), p.Y()];
    };
    if (curve.GetType() === oc.GeomAbs_CurveType.GeomAbs_Line) return [at(from), at(to)];
    const spread = at((from + to) / 2).map((x, i) => x - (at(from)[i] as number));
    // Circles and ellipses come with their angle as parameter; what is left are splines, close enough by any even walk.
    const reach = Math.max(Math.hypot(...spread), 1e-3);
    const step = 2 * Math.sqrt((2 * sagitta) / reach);
    const isSpline = curve.GetType() === oc.GeomAbs_CurveType.GeomAbs_BSplineCurve;
    const count = isSpline ? 200 : Math.min(1000, Math.max(8, Math.ceil((to - from) / step)));
    return Array.from({ length: count + 1 }, (_, i) => at(from + ((to - from) * i) / count));
  });
}
