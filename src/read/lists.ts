/** The `joints` and `hardware` blocks: lists, each item on its own. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { check } from './check.ts';
import { entryOf, found, type Node, quoted, textOf, textsOf, valueAt, writtenOf } from './node.ts';
import { joint, use } from './schemas/blocks.ts';
import { placeOf } from './shape.ts';
import type { Direction, Face, HardwareSource, JointKind, JointSource, Written } from './types.ts';

interface ListReading<T> {
  readonly items: readonly T[];
  readonly diagnostics: readonly Diagnostic[];
}

/** One `joints` block. A joint with a fault is left out. */
export function readJoints(node: Node): ListReading<JointSource> {
  const hint = '- { join: apron, to: leg, by: pocket screws, count: 2 }';
  return readList(node, 'joints', 'a joint', hint, joint, housingFaults, (item) => {
    const by = writtenOf(item, 'by') as Written;
    const from = writtenOf(item, 'from');
    const stopped = valueAt(item, 'stopped');
    // several parts that are joined alike are a joint each
    return pairsOf(textsOf(item, 'join'), textsOf(item, 'to')).map(([join, to]) => ({
      join,
      to,
      by: { value: by.text as JointKind, origin: by.origin },
      ...optional('count', writtenOf(item, 'count')),
      ...(from === undefined ? {} : { from: { value: from.text as Face, origin: from.origin } }),
      ...optional('with', writtenOf(item, 'with')),
      ...optional('setBack', writtenOf(item, 'set back')),
      ...optional('leastSpacing', writtenOf(item, 'least spacing')),
      ...optional('depth', writtenOf(item, 'depth')),
      ...optional('stopped', stopped && placeOf(stopped)),
      origin: item.origin,
    }));
  });
}

/** Each of some parts with each of others. */
const pairsOf = (joined: readonly Written[], others: readonly Written[]): (readonly [Written, Written])[] =>
  joined.flatMap((join) => others.map((to) => [join, to] as const));

/** Keys that a housing needs or can't have, and those that only a housing has. */
function housingFaults(item: Node): Diagnostic[] {
  const by = textOf(item, 'by') ?? '';
  const said: Diagnostic[] = [];
  const stray = (keys: readonly string[], hint: (key: string) => string): void => {
    for (const key of keys) {
      const entry = entryOf(item, key);
      const expected = `no "${key}" in a joint by ${by}`;
      if (entry)
        said.push(fault('joints.clash', entry.key.origin, { expected, found: quoted(key), hint: hint(key) }));
    }
  };
  if (by !== 'housing') {
    stray(
      ['depth', 'stopped'],
      (key) => `${key} belongs to a joint by: housing; leave it out, or write a joint for the housing`,
    );
    return said;
  }
  if (valueAt(item, 'depth') === undefined)
    said.push(
      fault('joints.key-missing', entryOf(item, 'by')?.value.origin ?? item.origin, {
        expected: '"depth" of the housing: how far the end goes in',
        found: 'none',
        hint: 'depth: 1/4 in | 6 mm',
      }),
    );
  stray(
    ['count', 'from', 'with', 'set back', 'least spacing'],
    () => 'a housing holds by its fit: write a second joint for glue or screws',
  );
  return said;
}

/** Keys that say where on a part it lies need the part. */
function placeless(item: Node): Diagnostic[] {
  if (valueAt(item, 'on') !== undefined) return [];
  return ['at', 'set back', 'runs', 'knuckle'].flatMap((key) => {
    const entry = entryOf(item, key);
    if (!entry) return [];
    return [
      fault('hardware.clash', entry.key.origin, {
        expected: `"on" beside "${key}": the face it is fixed to`,
        found: 'none',
        hint: 'on: lid.back',
      }),
    ];
  });
}

/** One `hardware` block. An item with a fault is left out. */
export function readUses(node: Node): ListReading<HardwareSource> {
  return readList(
    node,
    'hardware',
    'a piece of hardware',
    '- { item: strap-hinge, count: 2 }',
    use,
    placeless,
    (item) => {
      const at = valueAt(item, 'at');
      const runs = writtenOf(item, 'runs');
      const knuckle = writtenOf(item, 'knuckle');
      return [
        {
          item: writtenOf(item, 'item') as Written,
          count: writtenOf(item, 'count') as Written,
          ...optional('on', writtenOf(item, 'on')),
          ...optional('at', at && placeOf(at)),
          ...optional('setBack', writtenOf(item, 'set back')),
          ...optional('runs', runs && { value: runs.text as Direction, origin: runs.origin }),
          ...optional('knuckle', knuckle && { value: knuckle.text as Face, origin: knuckle.origin }),
          ...optional('note', textOf(item, 'note')),
          origin: item.origin,
        },
      ];
    },
  );
}

const optional = <K extends string, T>(key: K, value: T | undefined): { [P in K]?: T } =>
  value === undefined ? {} : ({ [key]: value } as { [P in K]: T });

function readList<T>(
  node: Node,
  area: string,
  called: string,
  hint: string,
  schema: typeof joint | typeof use,
  more: (item: Node) => readonly Diagnostic[],
  make: (item: Node) => readonly T[],
): ListReading<T> {
  if (node.kind !== 'list')
    return {
      items: [],
      diagnostics: [
        fault(`${area}.value`, node.origin, {
          expected: 'a list, each item with a dash before it',
          found: found(node),
          hint,
        }),
      ],
    };
  const items: T[] = [];
  const diagnostics: Diagnostic[] = [];
  for (const item of node.items) {
    const faults = check(item, schema, area, { called, origin: item.origin });
    if (faults.length === 0) faults.push(...more(item));
    diagnostics.push(...faults);
    if (faults.length === 0) items.push(...make(item));
  }
  return { items, diagnostics };
}
