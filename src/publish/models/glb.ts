/**
 * The finished piece as GLB (glTF 2.0, binary; Khronos Group): a node a copy, flat faces, metres, Y up. The only file that names
 * `@gltf-transform/core`, which is loaded when a model is first written.
 */
import type { Accessor, Buffer, Document, Material, Mesh, Node, Primitive } from '@gltf-transform/core';
import type { PlacedPart, SolidFace } from '../../geometry/types.ts';
import { dot, subtract } from '../../geometry/vectors.ts';
import { type Placing, placingOf } from '../../model/frames.ts';
import type { Vec3 } from '../../model/types.ts';
import type { Keyframe } from './clip.ts';

/** A copy for the model. */
export interface GlbCopy {
  readonly part: PlacedPart;
  /** Of its blank, mm: where a mirrored copy is reflected. */
  readonly width: number;
  readonly name: string;
  readonly letter: string;
  /** The step that adds it. */
  readonly step?: number;
  /** From its place to where it is drawn in the exploded view, mm in the piece's axes. */
  readonly apart?: Vec3;
  /** How it gets there in the film of the piece coming apart; absent for what stays. */
  readonly film?: readonly Keyframe[];
  /** Species key: its tones. */
  readonly species: string;
}

/** Colours of a species as `#rrggbb`: along the grain, end grain, and fresh cuts. */
export interface WoodTones {
  readonly side: string;
  readonly end: string;
  readonly cut: string;
}

/** The tones of the drawings' finished piece, for a species that has none of its own. */
const USUAL: WoodTones = { side: '#e8d6b2', end: '#b7966a', cut: '#d2b98a' };

type Surface = keyof WoodTones;

const surfaceOf = (role: SolidFace['role']): Surface =>
  role === 'end' ? 'end' : role === 'wide' || role === 'edge' ? 'side' : 'cut';

/** mm of the piece to metres of the model: x stays, up becomes y, to the front becomes z. */
const toModel = (p: Vec3): Vec3 => [p[0] / 1000, p[2] / 1000, -p[1] / 1000];

/** The name of the animation that takes the piece apart. */
const APART = 'apart';

/**
 * The model as bytes. Boards of one form share a mesh. Each node is named by its copy and has `letter`, `part`, `name`, `step` and
 * `apart` (the exploded view's move, metres in the model's axes) in its extras. Copies with a `film` are moved by
 * an animation of that name, so that any viewer of glTF shows the piece coming apart; at rest it is whole. Same input, same bytes.
 */
export async function glbOf(
  title: string,
  copies: readonly GlbCopy[],
  tones: ReadonlyMap<string, WoodTones> = new Map(),
): Promise<Uint8Array> {
  const { Document: Model, WebIO } = await import('@gltf-transform/core');
  const model = new Model();
  model.getRoot().getAsset().generator = 'Kerfleaf';
  const buffer = model.createBuffer();
  const scene = model.createScene(title);
  model.getRoot().setDefaultScene(scene);
  const materials = new Map<string, Material>();
  const meshes = new Map<string, Mesh>();
  const films: { node: Node; film: readonly Keyframe[] }[] = [];
  const material = (species: string, surface: Surface): Material => {
    const key = `${species}, ${SURFACE_WORDS[surface]}`;
    const known = materials.get(key);
    if (known) return known;
    const made = model
      .createMaterial(key)
      .setBaseColorFactor([...linear((tones.get(species) ?? USUAL)[surface]), 1])
      .setMetallicFactor(0)
      .setRoughnessFactor(0.9);
    materials.set(key, made);
    return made;
  };
  for (const copy of copies) {
    if (copy.part.triangles.length === 0) continue;
    const placing = placingOf(copy.part.frame, copy.width);
    const board = ownForm(copy.part, placing);
    const key = JSON.stringify([copy.species, board]);
    let mesh = meshes.get(key);
    if (mesh === undefined) {
      mesh = model.createMesh(copy.part.part);
      for (const { surface, positions, normals, indices } of board) {
        const primitive = primitiveOf(model, positions, normals, indices);
        mesh.addPrimitive(primitive.setMaterial(material(copy.species, surface)));
      }
      for (const primitive of mesh.listPrimitives())
        for (const each of [...primitive.listAttributes(), primitive.getIndices()]) each?.setBuffer(buffer);
      meshes.set(key, mesh);
    }
    const node = model
      .createNode(copy.part.copy)
      .setMesh(mesh)
      .setMatrix(matrixOf(placing))
      .setExtras({
        letter: copy.letter,
        part: copy.part.part,
        name: copy.name,
        ...(copy.step === undefined ? {} : { step: copy.step }),
        ...(copy.apart === undefined ? {} : { apart: toModel(copy.apart).map(tidy) }),
      });
    scene.addChild(node);
    if (copy.film !== undefined && copy.film.length > 1) films.push({ node, film: copy.film });
  }
  if (films.length > 0) addFilms(model, buffer, films);
  return new WebIO().writeBinary(model);
}

/** One animation of all films: a node's translation at each time, straight between two. Copies that move at the same times share them. */
function addFilms(
  model: Document,
  buffer: Buffer,
  films: readonly { readonly node: Node; readonly film: readonly Keyframe[] }[],
): void {
  const animation = model.createAnimation(APART);
  const clocks = new Map<string, Accessor>();
  for (const { node, film } of films) {
    const times = film.map((key) => key.at);
    const name = times.join(' ');
    const clock =
      clocks.get(name) ??
      model.createAccessor().setType('SCALAR').setArray(new Float32Array(times)).setBuffer(buffer);
    clocks.set(name, clock);
    const home = node.getTranslation();
    const places = film.flatMap((key) => toModel(key.by).map((x, k) => tidy(x + (home[k] as number))));
    const output = model
      .createAccessor()
      .setType('VEC3')
      .setArray(new Float32Array(places))
      .setBuffer(buffer);
    const sampler = model
      .createAnimationSampler()
      .setInput(clock)
      .setOutput(output)
      .setInterpolation('LINEAR');
    const channel = model
      .createAnimationChannel()
      .setTargetNode(node)
      .setTargetPath('translation')
      .setSampler(sampler);
    animation.addSampler(sampler).addChannel(channel);
  }
}

const SURFACE_WORDS: Readonly<Record<Surface, string>> = {
  side: 'along the grain',
  end: 'end grain',
  cut: 'cut',
};

interface Patch {
  readonly surface: Surface;
  readonly positions: number[];
  readonly normals: number[];
  readonly indices: number[];
}

/** A board's faces in its own frame, metres: a patch for each kind of surface, corners of one face shared, their normals its own. */
function ownForm(part: PlacedPart, placing: Placing): Patch[] {
  const origin = placing.point([0, 0, 0]);
  const axes = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((axis) => placing.vector(axis));
  const local = (v: Vec3): Vec3 => axes.map((axis) => dot(v, axis)) as unknown as Vec3;
  const [x, y, z] = axes as [Vec3, Vec3, Vec3];
  // A reflection turns triangles over; in the board's own frame they are as its first copy has them.
  const reflected =
    dot(x, [y[1] * z[2] - y[2] * z[1], y[2] * z[0] - y[0] * z[2], y[0] * z[1] - y[1] * z[0]]) < 0;
  const patches = new Map<Surface, Patch>();
  for (const face of part.faces) {
    const surface = surfaceOf(face.role);
    const patch = patches.get(surface) ?? { surface, positions: [], normals: [], indices: [] };
    patches.set(surface, patch);
    const normal = local(face.normal).map(tidy);
    const corners = new Map<number, number>();
    for (const t of face.triangles) {
      const [a, b, c] = part.triangles[t] as readonly [number, number, number];
      for (const v of reflected ? [a, c, b] : [a, b, c]) {
        let at = corners.get(v);
        if (at === undefined) {
          at = patch.positions.length / 3;
          corners.set(v, at);
          const p = local(subtract(part.vertices[v] as Vec3, origin));
          patch.positions.push(...p.map((value) => tidy(value / 1000)));
          patch.normals.push(...normal);
        }
        patch.indices.push(at);
      }
    }
  }
  return (['side', 'end', 'cut'] as const).flatMap((surface) => patches.get(surface) ?? []);
}

/** A ten-millionth: copies of one form then have the same numbers. */
const tidy = (value: number): number => Math.round(value * 1e7) / 1e7 + 0;

function primitiveOf(
  model: Document,
  positions: readonly number[],
  normals: readonly number[],
  indices: readonly number[],
): Primitive {
  const wide = positions.length / 3 > 65535;
  const vectors = (values: readonly number[]) =>
    model.createAccessor().setType('VEC3').setArray(new Float32Array(values));
  return model
    .createPrimitive()
    .setAttribute('POSITION', vectors(positions))
    .setAttribute('NORMAL', vectors(normals))
    .setIndices(
      model
        .createAccessor()
        .setType('SCALAR')
        .setArray(wide ? new Uint32Array(indices) : new Uint16Array(indices)),
    );
}

type Matrix = Parameters<ReturnType<Document['createNode']>['setMatrix']>[0];

/** From a board's own frame to the model, both in metres: columns first. */
function matrixOf(placing: Placing): Matrix {
  const turned = (v: Vec3): Vec3 => [v[0], v[2], -v[1]];
  const columns = (
    [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const
  ).map((axis) => turned(placing.vector(axis)));
  return [
    ...columns.flatMap((column) => [...column, 0]),
    ...toModel(placing.point([0, 0, 0])),
    1,
  ] as unknown as Matrix;
}

/** sRGB as written to the linear numbers that glTF wants (IEC 61966-2-1). */
function linear(colour: string): [number, number, number] {
  return [1, 3, 5].map((i) => {
    const value = Number.parseInt(colour.slice(i, i + 2), 16) / 255;
    return tidy(value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4);
  }) as [number, number, number];
}
