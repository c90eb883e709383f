/** Checks a node against a schema, and says each fault at the place of the very key or value. */
import type { z } from 'zod';
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { listed, saidBy } from './forms.ts';
import { nearest } from './nearest.ts';
import { entryOf, found, type Node, plain, quoted } from './node.ts';

type Issue = z.core.$ZodIssue;
type Schema = z.core.$ZodType;

/** What is checked, in words and with its place: `part "leg"`, at its key. */
export interface Owner {
  readonly called: string;
  readonly origin: Origin;
}

/**
 * Faults of a node, in the order of the schema. `area` is the first half of each id: `parts.key-unknown`, `parts.key-missing`,
 * `parts.value`. `broken` keys are there but could not be read, so they are not missed.
 */
export function check(
  node: Node,
  schema: z.ZodType,
  area: string,
  owner: Owner,
  broken: readonly string[] = [],
): Diagnostic[] {
  const result = schema.safeParse(plain(node), { reportInput: false });
  if (result.success) return [];
  return result.error.issues.flatMap((issue) => explain(issue, [], node, schema, area, owner, broken));
}

function explain(
  issue: Issue,
  above: readonly PropertyKey[],
  node: Node,
  schema: Schema,
  area: string,
  owner: Owner,
  broken: readonly string[],
): Diagnostic[] {
  const path = [...above, ...issue.path];
  if (issue.code === 'invalid_union') {
    const branch = inside(issue.errors);
    if (branch) return branch.flatMap((one) => explain(one, path, node, schema, area, owner, broken));
  }
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => unknownKey(key, path, node, schema, area, owner));
  const place = at(node, path);
  const said = saidBy(
    issue.code === 'invalid_key' ? (issue.issues[0]?.message ?? issue.message) : issue.message,
  );
  if (place.missing !== undefined) {
    if (above.length + issue.path.length === 1 && (broken.includes(place.missing) || broken.includes('*')))
      return [];
    const whose = place.whose ?? owner.called;
    return [
      fault(`${area}.key-missing`, place.origin ?? owner.origin, {
        expected: `"${place.missing}" in ${whose}: ${said.expected}`,
        found: 'none',
        hint: `${place.missing}: ${said.hint ?? (issue.code === 'invalid_value' ? String(issue.values[0]) : '…')}`,
      }),
    ];
  }
  const target = issue.code === 'invalid_key' ? place.key : place.node;
  const word = target?.kind === 'text' ? target.text : undefined;
  const near =
    issue.code === 'invalid_value' && word !== undefined
      ? nearest(word, issue.values.map(String))
      : undefined;
  const hint = near ?? said.hint;
  return [
    fault(`${area}.value`, target?.origin ?? owner.origin, {
      expected: said.expected,
      found: target === undefined ? 'nothing' : found(target),
      ...(hint === undefined ? {} : { hint }),
    }),
  ];
}

/** Of the ways a value may be written, the one the author took: its faults lie inside the value, not at its door. */
function inside(branches: readonly (readonly Issue[])[]): readonly Issue[] | undefined {
  return branches.find((issues) =>
    issues.some((issue) => issue.path.length > 0 || issue.code === 'unrecognized_keys'),
  );
}

function unknownKey(
  key: string,
  path: readonly PropertyKey[],
  node: Node,
  schema: Schema,
  area: string,
  owner: Owner,
): Diagnostic {
  const place = at(node, path);
  const known = keysAt(schema, path, place.node);
  const near = nearest(key, known);
  const origin = entryOf(place.node, key)?.key.origin ?? place.node?.origin ?? owner.origin;
  return fault(`${area}.key-unknown`, origin, {
    expected: `one of the keys ${listed(known)}`,
    found: quoted(key),
    hint: near === undefined ? `Leave "${key}" out.` : near,
  });
}

/** The node at a path; where it is missing, the key that was due and where to say so. */
function at(
  root: Node,
  path: readonly PropertyKey[],
): { node?: Node; key?: Node; missing?: string; whose?: string; origin?: Origin } {
  let node: Node = root;
  let key: Node | undefined;
  let whose: string | undefined;
  for (const step of path) {
    if (node.kind === 'list' && typeof step === 'number') {
      const item: Node | undefined = node.items[step];
      if (item === undefined) return { origin: node.origin };
      node = item;
      key = undefined;
      whose = whose === undefined ? undefined : `an item of ${whose}`;
      continue;
    }
    const entry = entryOf(node, String(step));
    if (entry === undefined) {
      return {
        missing: String(step),
        ...(whose === undefined ? {} : { whose }),
        ...(key === undefined ? (node === root ? {} : { origin: node.origin }) : { origin: key.origin }),
      };
    }
    node = entry.value;
    key = entry.key;
    whose = quoted(entry.key.text);
  }
  return { node, ...(key === undefined ? {} : { key }) };
}

interface Definition {
  readonly type: string;
  readonly shape?: Readonly<Record<string, Schema>>;
  readonly element?: Schema;
  readonly valueType?: Schema;
  readonly innerType?: Schema;
  readonly options?: readonly Schema[];
}

const definition = (schema: Schema): Definition => schema._zod.def as unknown as Definition;

/** The keys an object schema knows at a path, in the order of the table. */
function keysAt(schema: Schema, path: readonly PropertyKey[], node: Node | undefined): string[] {
  let here: readonly Schema[] = open(schema);
  for (const step of path) {
    here = here.flatMap((one) => {
      const { shape, element, valueType } = definition(one);
      const next = shape ? shape[String(step)] : (element ?? valueType);
      return next === undefined ? [] : open(next);
    });
  }
  const shapes = here.map((one) => definition(one).shape ?? {});
  // Several shapes: the one that shares most keys with what was written.
  const score = (shape: object) =>
    node?.kind === 'map' ? node.entries.filter((entry) => entry.key.text in shape).length : 0;
  const best = [...shapes].sort((a, b) => score(b) - score(a))[0];
  return Object.keys(best ?? {});
}

/** A schema without its wrappers; of a union every way. */
function open(schema: Schema): Schema[] {
  const { innerType, options } = definition(schema);
  if (options) return options.flatMap(open);
  return innerType ? open(innerType) : [schema];
}
