/** The `sizes` and `parts` blocks. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { check } from './check.ts';
import { addName, type Names } from './names.ts';
import { nearest } from './nearest.ts';
import {
  type Entry,
  entryOf,
  found,
  itemsOf,
  type MapNode,
  type Node,
  textOf,
  textsOf,
  valueAt,
  written,
  writtenOf,
} from './node.ts';
import * as schemas from './schemas/blocks.ts';
import { FACES } from './schemas/words.ts';
import { clashes, readBrace, readGlueUp, readLean, readShape } from './shape.ts';
import type { ShapeSource } from './shape-types.ts';
import type {
  CopySource,
  Direction,
  Face,
  LaySource,
  Mirror,
  PartSource,
  PlanSource,
  SizeSource,
  Written,
} from './types.ts';

export interface SizesReading {
  readonly sizes: readonly SizeSource[];
  readonly outline?: PlanSource['outline'];
  readonly outlineKey?: Entry;
  readonly diagnostics: readonly Diagnostic[];
}

/** One `sizes` block. */
export function readSizes(node: Node, names: Names): SizesReading {
  if (node.kind !== 'map')
    return { sizes: [], diagnostics: [notKeys(node, 'sizes', 'overhang: 1 in | 25 mm')] };
  const diagnostics: Diagnostic[] = [];
  const sizes: SizeSource[] = [];
  for (const { key, value } of node.entries) {
    if (key.text === 'outline') continue;
    diagnostics.push(...addName(names, key, 'size'));
    const owner = { called: `the size "${key.text}"`, origin: key.origin };
    const faults = check(value, schemas.size, 'sizes', owner);
    diagnostics.push(...faults);
    if (value.kind === 'text' && faults.length === 0)
      sizes.push({ name: key.text, nameOrigin: key.origin, formula: written(value) });
  }
  const entry = entryOf(node, 'outline');
  if (entry === undefined) return { sizes, diagnostics };
  diagnostics.push(
    ...check(entry.value, schemas.outline, 'sizes', { called: 'the outline', origin: entry.key.origin }),
  );
  const width = writtenOf(entry.value, 'width');
  const depth = writtenOf(entry.value, 'depth');
  const height = writtenOf(entry.value, 'height');
  const outline = width && depth && height ? { width, depth, height } : undefined;
  return { sizes, outlineKey: entry, diagnostics, ...(outline === undefined ? {} : { outline }) };
}

/** One `parts` block. A part with a fault is left out; the fault is an error all the same. */
export function readParts(
  node: Node,
  names: Names,
): { readonly parts: readonly PartSource[]; readonly diagnostics: readonly Diagnostic[] } {
  if (node.kind !== 'map') return { parts: [], diagnostics: [notKeys(node, 'parts', 'leg:\n  stock: 2x4')] };
  const diagnostics: Diagnostic[] = [];
  const parts: PartSource[] = [];
  for (const { key, value } of node.entries) {
    const faults = addName(names, key, 'part');
    const owner = { called: `the part "${key.text}"`, origin: key.origin };
    faults.push(...check(value, schemas.part, 'parts', owner));
    if (value.kind === 'map' && faults.length === 0) {
      const { shape, diagnostics: shapeFaults } = readShape(value, owner);
      faults.push(...layFaults(value), ...clashes(value), ...shapeFaults);
      parts.push(partOf(key.text, key.origin, value, shape));
    }
    diagnostics.push(...faults);
  }
  return { parts, diagnostics };
}

const notKeys = (node: Node, area: string, hint: string): Diagnostic =>
  fault(`${area}.value`, node.origin, { expected: 'names, each with a colon', found: found(node), hint });

/** The keys that only courses have. */
const LAY_KEYS = ['from', 'to', 'gap', 'ends', 'first tongue'] as const;

function layFaults(part: MapNode): Diagnostic[] {
  const lay = entryOf(part, 'lay');
  const said: Diagnostic[] = [];
  if (lay === undefined) {
    for (const name of LAY_KEYS) {
      const entry = entryOf(part, name);
      if (!entry || (name === 'from' && isOffcut(part))) continue;
      const meant = name === 'from' && nearest(textOf(part, 'from') ?? '', [OFFCUT]) !== undefined;
      said.push(
        fault('parts.lay-missing', entry.key.origin, {
          expected: `"lay" beside "${name}", which only courses have`,
          found: 'none',
          hint: meant ? `from: ${OFFCUT}` : 'lay: front to back',
        }),
      );
    }
    return said;
  }
  if (isOffcut(part))
    said.push(
      fault('parts.offcut-laid', (entryOf(part, 'from') as Entry).value.origin, {
        expected: 'where the first course starts, since the part is laid in courses',
        found: `"${OFFCUT}"`,
        hint: 'from: front',
      }),
    );
  for (const name of ['from', 'to'] as const) {
    if (entryOf(part, name) === undefined)
      said.push(
        fault('parts.key-missing', lay.key.origin, {
          expected: `"${name}" beside "lay": where the ${name === 'from' ? 'first course starts' : 'last course ends'}`,
          found: 'none',
          hint: name === 'from' ? 'from: front' : 'to: back',
        }),
      );
  }
  return said;
}

/** The word that takes a part from what others leave, in the place where courses start. */
const OFFCUT = 'offcut';

const isOffcut = (part: MapNode): boolean => textOf(part, 'from')?.trim() === OFFCUT;

function partOf(
  key: string,
  origin: PartSource['origin'],
  node: MapNode,
  shape: readonly ShapeSource[],
): PartSource {
  const word = <T extends string>(name: string) => {
    const found = writtenOf(node, name);
    return found && { value: found.text as T, origin: found.origin };
  };
  const some = <K extends keyof PartSource>(name: K, value: PartSource[K] | undefined) =>
    value === undefined ? {} : ({ [name]: value } as Pick<PartSource, K>);
  const faces = FACES.flatMap((face): [Face, Written][] => {
    const value = writtenOf(valueAt(node, 'at'), face);
    return value === undefined ? [] : [[face, value]];
  });
  const between = textsOf(node, 'between');
  const banded = textsOf(node, 'banded');
  const visible = textsOf(node, 'visible').map((face) => face.text as Face);
  // `stock` and `runs` are there: the schema was checked.
  return {
    key,
    origin,
    stock: writtenOf(node, 'stock') as Written,
    runs: word<Direction>('runs') as PartSource['runs'],
    at: Object.fromEntries(faces),
    copies: itemsOf(node, 'copies').flatMap(copiesOf),
    ...some('name', textOf(node, 'name')),
    ...some('species', writtenOf(node, 'species')),
    ...some('wideFace', word<Face>('wide face')),
    ...some('between', between.length === 0 ? undefined : between),
    ...some('length', writtenOf(node, 'length')),
    ...some('rip', writtenOf(node, 'rip')),
    ...some('lay', layOf(node)),
    ...some('lean', readLean(node)),
    ...some('brace', readBrace(node)),
    ...some('glueUp', readGlueUp(node)),
    ...some('shape', shape.length === 0 ? undefined : shape),
    ...some('assembly', writtenOf(node, 'assembly')),
    ...some('fit', textOf(node, 'fit') === undefined ? undefined : 'measured'),
    ...some('turn', ['yes', 'true'].includes(textOf(node, 'turn') ?? '') ? true : undefined),
    ...some('template', textOf(node, 'template') as PartSource['template']),
    ...some('fromOffcut', isOffcut(node) ? writtenOf(node, 'from')?.origin : undefined),
    ...some(
      'banded',
      banded.length === 0
        ? undefined
        : banded.map(({ text, origin: at }) => ({ value: text as Face, origin: at })),
    ),
    ...some('visible', visible.length === 0 ? undefined : visible),
    ...some('note', textOf(node, 'note')),
  };
}

/** `mirrored left-right and front-back` gives two rules, each at its own word. */
function copiesOf(node: Node): CopySource[] {
  if (node.kind === 'text') {
    return [...node.text.matchAll(/left-right|front-back|bottom-top/gu)].map((match) => ({
      kind: 'mirrored',
      across: match[0] as Mirror,
      origin: { ...node.origin, column: node.origin.column + match.index },
    }));
  }
  const count = writtenOf(node, 'repeated');
  const along = textOf(node, 'along');
  if (count === undefined || along === undefined) return [];
  const spacing = writtenOf(node, 'spacing');
  const to = writtenOf(node, 'to');
  return [
    {
      kind: 'repeated',
      count,
      along: along as Direction,
      ...(spacing === undefined ? {} : { spacing }),
      ...(to === undefined ? {} : { to }),
      origin: node.origin,
    },
  ];
}

const LAID: Readonly<Record<string, { along: Direction; reversed: boolean }>> = {
  'left to right': { along: 'across', reversed: false },
  'right to left': { along: 'across', reversed: true },
  'front to back': { along: 'deep', reversed: false },
  'back to front': { along: 'deep', reversed: true },
  'bottom to top': { along: 'up', reversed: false },
  'top to bottom': { along: 'up', reversed: true },
};

function layOf(node: MapNode): LaySource | undefined {
  const lay = writtenOf(node, 'lay');
  const from = writtenOf(node, 'from');
  const to = writtenOf(node, 'to');
  const laid = LAID[lay?.text ?? ''];
  if (!lay || !from || !to || !laid) return undefined;
  const gap = writtenOf(node, 'gap');
  const tongue = textOf(node, 'first tongue');
  return {
    ...laid,
    from,
    to,
    ...(gap === undefined ? {} : { gap }),
    ends: textOf(node, 'ends') === 'shared' ? 'shared' : 'last',
    ...(tongue === undefined ? {} : { firstTongue: tongue === 'trimmed' ? 'trimmed' : 'kept' }),
    origin: lay.origin,
  };
}
