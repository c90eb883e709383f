/** Reads `shape`, `lean`, `slope`, `brace` and `glue up` of a part. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { check, type Owner } from './check.ts';
import { listed } from './forms.ts';
import { nearest } from './nearest.ts';
import {
  entryOf,
  found,
  type MapNode,
  type Node,
  quoted,
  textOf,
  textsOf,
  valueAt,
  written,
  writtenOf,
} from './node.ts';
import { SHAPES, STEPS } from './schemas/shape.ts';
import { DIRECTIONS, FACES } from './schemas/words.ts';
import type {
  BraceSource,
  GlueUpSource,
  LeanSource,
  PathStepSource,
  PlaceSource,
  ShapeSource,
} from './shape-types.ts';
import type { Direction, Face, Placed, Written } from './types.ts';

/** Most operations of one part, and steps of one outline. */
export const MOST_OPERATIONS = 60;
const MOST_STEPS = 200;

const EXAMPLE = '- { hole: front, at: { up: 6 in }, diameter: 1 in }';

/** The operations of a part; those with a fault are left out, each fault at its place. */
export function readShape(
  part: MapNode,
  owner: Owner,
): { readonly shape: readonly ShapeSource[]; readonly diagnostics: readonly Diagnostic[] } {
  const entry = entryOf(part, 'shape');
  if (!entry) return { shape: [], diagnostics: [] };
  const { value } = entry;
  if (value.kind !== 'list')
    return {
      shape: [],
      diagnostics: [
        fault('shape.value', value.origin, {
          expected: 'a list of operations, each with a hyphen, in the order they are made',
          found: found(value),
          hint: EXAMPLE,
        }),
      ],
    };
  if (value.items.length > MOST_OPERATIONS)
    return {
      shape: [],
      diagnostics: [
        fault('shape.too-many', entry.key.origin, {
          expected: `at most ${MOST_OPERATIONS} operations on ${owner.called}`,
          found: String(value.items.length),
        }),
      ],
    };
  const diagnostics: Diagnostic[] = [];
  const shape = value.items.flatMap((item) => {
    const read = operationOf(item);
    if ('kind' in read) return [read];
    diagnostics.push(...read.faults);
    return [];
  });
  return { shape, diagnostics };
}

function operationOf(item: Node): ShapeSource | { readonly faults: readonly Diagnostic[] } {
  const first = item.kind === 'map' ? item.entries[0] : undefined;
  if (item.kind !== 'map' || !first)
    return {
      faults: [
        fault('shape.value', item.origin, {
          expected: 'an operation: its name, a colon, and where it is made',
          found: found(item),
          hint: EXAMPLE,
        }),
      ],
    };
  const called = first.key.text;
  const known = Object.hasOwn(SHAPES, called) ? SHAPES[called] : undefined;
  if (!known) {
    const elsewhere = item.entries.find((entry) => Object.hasOwn(SHAPES, entry.key.text));
    const near = nearest(called, Object.keys(SHAPES));
    const hint = elsewhere ? `write ${elsewhere.key.text}: first` : near;
    return {
      faults: [
        fault('shape.operation', first.key.origin, {
          expected: `an operation first: ${listed(Object.keys(SHAPES))}`,
          found: quoted(called),
          ...(hint === undefined ? {} : { hint }),
        }),
      ],
    };
  }
  const owner = { called: `the ${called}`, origin: first.key.origin };
  const faults = called === 'outline' ? stepFaults(item) : check(item, known.schema, 'shape', owner);
  if (faults.length === 0) faults.push(...choices(item, called));
  if (faults.length > 0) return { faults };
  return shapeOf(item, known.kind, called);
}

/** Faults of an outline's steps, each checked by the table that its first key chooses. */
function stepFaults(item: MapNode): Diagnostic[] {
  const said = item.entries.slice(1).map(({ key }) =>
    fault('shape.key-unknown', key.origin, {
      expected: 'nothing beside the steps of an outline',
      found: quoted(key.text),
      hint: `Leave "${key.text}" out.`,
    }),
  );
  const steps = item.entries[0]?.value;
  if (steps?.kind !== 'list')
    return [
      ...said,
      fault('shape.value', steps?.origin ?? item.origin, {
        expected: 'a list of steps: start, then lines and arcs',
        found: steps ? found(steps) : 'nothing',
        hint: '- start: { across: left, up: floor }',
      }),
    ];
  return [
    ...said,
    ...steps.items.flatMap((step) => {
      const key = step.kind === 'map' ? step.entries[0]?.key : undefined;
      const schema = key && Object.hasOwn(STEPS, key.text) ? STEPS[key.text] : undefined;
      if (key && schema)
        return check(step, schema, 'shape', { called: `the ${key.text}`, origin: key.origin });
      return [
        fault('shape.step', key?.origin ?? step.origin, {
          expected: 'a step: start, line or arc, and a point',
          found: key ? quoted(key.text) : found(step),
          hint: 'line: { across: right, up: floor }',
        }),
      ];
    }),
  ];
}

/** Keys of which one is due, and keys that only go together. */
function choices(item: MapNode, called: string): Diagnostic[] {
  const said: Diagnostic[] = [];
  const has = (key: string) => entryOf(item, key);
  const { origin } = (item.entries[0] as MapNode['entries'][number]).key;
  if (called === 'taper' && (has('by') === undefined) === (has('leaves') === undefined))
    said.push(
      fault('shape.choice', has('leaves')?.key.origin ?? origin, {
        expected: 'either "by", what is taken off, or "leaves", what is left',
        found: has('by') ? 'both' : 'neither',
        hint: 'leaves: 1 in | 25 mm',
      }),
    );
  if (has('repeated') || has('along') || has('spacing'))
    for (const key of ['repeated', 'along', 'spacing'])
      if (!has(key))
        said.push(
          fault('shape.key-missing', origin, {
            expected: `"${key}" for a row, beside its other two keys`,
            found: 'none',
            hint: { repeated: 'repeated: 3', along: 'along: across', spacing: 'spacing: 2 in' }[
              key
            ] as string,
          }),
        );
  const boxes = item.entries[0]?.value;
  if ((called === 'rebate' || called === 'rabbet') && boxes?.kind === 'map' && boxes.entries.length !== 2)
    said.push(
      fault('shape.rebate', boxes.origin, {
        expected: 'two faces that meet in the edge, and how much is taken off each',
        found: `${boxes.entries.length}`,
        hint: '{ back: 1/4 in, right: 3/8 in }',
      }),
    );
  if (called !== 'outline') return said;
  const steps = boxes?.kind === 'list' ? boxes.items : [];
  if (steps.length > MOST_STEPS)
    said.push(
      fault('shape.too-many', origin, {
        expected: `at most ${MOST_STEPS} steps in an outline`,
        found: String(steps.length),
      }),
    );
  steps.forEach((step, index) => {
    const starts = entryOf(step, 'start') !== undefined;
    if (starts !== (index === 0))
      said.push(
        fault('shape.start', step.origin, {
          expected: index === 0 ? '"start" as the first step' : '"start" in the first step alone',
          found: index === 0 ? 'none' : 'another',
          hint: index === 0 ? '- start: { across: left, up: floor }' : 'write line: or arc:',
        }),
      );
    const ways = [entryOf(step, 'through'), entryOf(step, 'radius')].filter((one) => one !== undefined);
    const whole = ways.length === 1 && (!entryOf(step, 'radius') || entryOf(step, 'bulges'));
    if (entryOf(step, 'arc') && !whole)
      said.push(
        fault('shape.choice', step.origin, {
          expected: 'for an arc either "through", a point on it, or "radius" and "bulges"',
          found: ways.length === 2 ? 'both' : ways.length === 1 ? 'the radius alone' : 'neither',
          hint: 'radius: 6 in | 150 mm, bulges: top',
        }),
      );
  });
  return said;
}

/** What the keys hold: texts by their own name, groups of faces and points as places, others as `key.inner`. */
function shapeOf(item: MapNode, kind: ShapeSource['kind'], called: string): ShapeSource {
  const values: Record<string, Written> = {};
  const places: Record<string, PlaceSource> = {};
  const words: Record<string, readonly Written[]> = {};
  for (const { key, value } of item.entries) {
    const name = key.text;
    if (name === called && value.kind === 'map') places.box = placeOf(value);
    else if (name === called) continue;
    else if (['long', 'end', 'form', 'along', 'seen'].includes(name)) words[name] = textsOf(item, name);
    else if (['at', 'from', 'to', 'lean'].includes(name) && value.kind === 'map')
      places[name] = placeOf(value);
    else if (value.kind === 'map')
      for (const inner of value.entries) {
        if (inner.value.kind === 'text') values[`${name}.${inner.key.text}`] = written(inner.value);
      }
    else if (value.kind === 'text') values[name] = written(value);
  }
  const path = called === 'outline' ? pathOf(valueAt(item, called)) : undefined;
  return {
    kind,
    called,
    origin: (item.entries[0] as MapNode['entries'][number]).key.origin,
    on: textsOf(item, called),
    values,
    places,
    words,
    ...(path === undefined ? {} : { path }),
  };
}

function pathOf(node: Node | undefined): readonly PathStepSource[] {
  if (node?.kind !== 'list') return [];
  return node.items.flatMap((step): PathStepSource[] => {
    if (step.kind !== 'map') return [];
    const kind = (['start', 'line', 'arc'] as const).find((one) => entryOf(step, one) !== undefined);
    if (!kind) return [];
    const through = valueAt(step, 'through');
    const radius = writtenOf(step, 'radius');
    const bulges = faceAt(step, 'bulges');
    return [
      {
        kind,
        origin: step.origin,
        to: placeOf(valueAt(step, kind) ?? step),
        ...(through === undefined ? {} : { through: placeOf(through) }),
        ...(radius === undefined ? {} : { radius }),
        ...(bulges === undefined ? {} : { bulges }),
      },
    ];
  });
}

const faceAt = (node: Node, key: string): Placed<Face> | undefined => {
  const text = writtenOf(node, key);
  return text && { value: text.text as Face, origin: text.origin };
};

export function placeOf(node: Node): PlaceSource {
  const values: Partial<Record<Face | Direction, Written>> = {};
  for (const key of [...FACES, ...DIRECTIONS]) {
    const value = writtenOf(node, key);
    if (value) values[key] = value;
  }
  return { origin: node.origin, values };
}

/** `lean` or `slope` of a part. */
export function readLean(part: MapNode): LeanSource | undefined {
  const kind = (['lean', 'slope'] as const).find((one) => valueAt(part, one) !== undefined);
  const node = kind && valueAt(part, kind);
  if (!kind || !node) return undefined;
  const cut = entryOf(node, 'cut') === undefined ? undefined : textsOf(node, 'cut');
  return {
    kind,
    origin: entryOf(part, kind)?.key.origin ?? node.origin,
    angles: placeOf(node).values as LeanSource['angles'],
    ...(cut === undefined
      ? {}
      : {
          cut: cut
            .filter((one) => one.text !== 'none')
            .map((one) => ({ value: one.text as Face, origin: one.origin })),
        }),
  };
}

/** `brace` of a part. */
export function readBrace(part: MapNode): BraceSource | undefined {
  const entry = entryOf(part, 'brace');
  const [from, to] = [valueAt(entry?.value, 'from'), valueAt(entry?.value, 'to')];
  if (!entry || !from || !to) return undefined;
  return { origin: entry.key.origin, from: placeOf(from), to: placeOf(to) };
}

/** `glue up` of a part. */
export function readGlueUp(part: MapNode): GlueUpSource | undefined {
  const entry = entryOf(part, 'glue up');
  if (!entry) return undefined;
  const boards = textOf(part, 'glue up') ?? textOf(entry.value, 'boards');
  const allowance = writtenOf(entry.value, 'allowance');
  return {
    origin: entry.key.origin,
    boards: boards === 'equal' ? 'equal' : 'as they come',
    ...(allowance === undefined ? {} : { allowance }),
  };
}

/** What of a part doesn't go together. */
export function clashes(part: MapNode): Diagnostic[] {
  const pairs: readonly (readonly [string, string, string])[] = [
    ['lean', 'slope', 'a standing board leans, a lying one slopes'],
    ['lean', 'brace', 'the two points of a brace say how it leans'],
    ['slope', 'brace', 'the two points of a brace say how it slopes'],
    ['lean', 'lay', 'courses stand upright'],
    ['brace', 'lay', 'a brace is one board'],
    ['brace', 'between', 'the two points of a brace say where it ends'],
    ['brace', 'length', 'the two points of a brace say how long it is'],
    ['glue up', 'lay', 'courses are laid side by side, a panel is glued up: choose one'],
  ];
  return pairs.flatMap(([one, other, why]) => {
    const [a, b] = [entryOf(part, one), entryOf(part, other)];
    if (!a || !b) return [];
    const place = later(a.key.origin, b.key.origin);
    return [fault('parts.clash', place, { expected: `"${one}" or "${other}"`, found: 'both', hint: why })];
  });
}

const later = <T extends { readonly line: number; readonly column: number }>(a: T, b: T): T =>
  b.line > a.line || (b.line === a.line && b.column > a.column) ? b : a;
