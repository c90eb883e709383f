/** The editors' schemas against the demo content: JSON Schema 2020-12, the keywords that the schemas use, checked by hand here. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
// The YAML library as an editor would use it: with numbers, yes/no left as text (YAML 1.2 core schema).
import { parse } from 'yaml';
import { editorSchemas } from '../../src/read/jsonschema.ts';

interface Schema {
  readonly type?: string | readonly string[];
  readonly enum?: readonly unknown[];
  readonly const?: unknown;
  readonly pattern?: string;
  readonly format?: string;
  readonly minimum?: number;
  readonly exclusiveMinimum?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: Schema | boolean;
  readonly propertyNames?: Schema;
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
}

const SAID = ['$schema', 'title', 'description', 'format', 'minLength'];

const typeOf = (value: unknown) => (Array.isArray(value) ? 'array' : value === null ? 'null' : typeof value);

/** What is wrong with a value: a small reader of JSON Schema of its own (JSON Schema Validation 2020-12, section 6). */
function wrong(value: unknown, schema: Schema, path = ''): string[] {
  const is = (type: string) =>
    type === typeOf(value) ||
    (type === 'integer' && Number.isInteger(value)) ||
    (type === 'number' && typeof value === 'number');
  const said: string[] = [];
  for (const [key, rule] of Object.entries(schema)) {
    if (key === 'type' && ![rule].flat().some((type) => is(type as string))) said.push(`${path}: ${key}`);
    else if (key === 'enum' && !(rule as unknown[]).includes(value)) said.push(`${path}: ${key}`);
    else if (key === 'const' && rule !== value) said.push(`${path}: ${key}`);
    else if (key === 'pattern' && typeof value === 'string' && !new RegExp(rule as string, 'u').test(value))
      said.push(`${path}: ${key}`);
    else if (key === 'minimum' && typeof value === 'number' && value < (rule as number))
      said.push(`${path}: ${key}`);
    else if (key === 'exclusiveMinimum' && typeof value === 'number' && value <= (rule as number))
      said.push(`${path}: ${key}`);
    else if (key === 'minItems' && Array.isArray(value) && value.length < (rule as number))
      said.push(`${path}: ${key}`);
    else if (key === 'maxItems' && Array.isArray(value) && value.length > (rule as number))
      said.push(`${path}: ${key}`);
    else if (key === 'anyOf' && (rule as Schema[]).every((one) => wrong(value, one).length > 0))
      said.push(`${path}: ${key}`);
    else if (
      ![
        'type',
        'enum',
        'const',
        'pattern',
        'minimum',
        'exclusiveMinimum',
        'minItems',
        'maxItems',
        'anyOf',
        'properties',
        'required',
        'additionalProperties',
        'propertyNames',
        'items',
        ...SAID,
      ].includes(key)
    )
      said.push(`${path}: unknown keyword ${key}`);
  }
  if (Array.isArray(value))
    return [...said, ...value.flatMap((item, i) => wrong(item, schema.items ?? {}, `${path}/${i}`))];
  if (typeof value !== 'object' || value === null) return said;
  for (const key of schema.required ?? []) if (!(key in value)) said.push(`${path}: without ${key}`);
  for (const [key, item] of Object.entries(value)) {
    const own = schema.properties?.[key] ?? schema.additionalProperties ?? {};
    if (own === false) said.push(`${path}: unknown ${key}`);
    else if (own !== true) said.push(...wrong(item, own, `${path}/${key}`));
  }
  return said;
}

const schemas = editorSchemas() as Readonly<Record<string, Schema>>;
const file = (path: string) => readFileSync(path, 'utf8');
const plans = ['coat-rack', 'nest-box', 'potting-bench', 'step-stool', 'window-seat'].map((slug) =>
  file(`content/plans/${slug}/plan.md`),
);

/** The documents of the demo shop, by the schema they belong to. */
const documents = new Map<string, unknown[]>([
  [
    'shop',
    ['4 x 2 in', '1 x 2-5/8 in', 'none'].map((labels) => {
      const shop = parse(file('content/shop.yaml'));
      return { ...shop, editions: { ...shop.editions, imperial: { ...shop.editions.imperial, labels } } };
    }),
  ],
  [
    'stock-list',
    ['north-american-softwood', 'metric-softwood'].map((key) => parse(file(`content/stock/${key}.yaml`))),
  ],
  [
    'hardware-file',
    ['fasteners', 'fittings', 'glue-and-finish'].map((key) => parse(file(`content/hardware/${key}.yaml`))),
  ],
  // the demo shop starts with nothing: the guide's own example
  ['on-hand', [parse(/```yaml\n(pieces:[\s\S]*?)```/.exec(file('src/GUIDE.md'))?.[1] ?? '')]],
  ['front-matter', plans.map((text) => parse(text.split('---\n')[1] ?? ''))],
  ...['sizes', 'variants', 'parts', 'joints', 'hardware', 'step'].map((kind): [string, unknown[]] => [
    kind,
    plans.flatMap((text) =>
      [...text.matchAll(new RegExp(`^\`\`\`${kind}\\n([\\s\\S]*?)^\`\`\``, 'gmu'))].map((match) =>
        parse(match[1] ?? ''),
      ),
    ),
  ]),
]);

describe('schemas for editors', () => {
  it('are there for every kind of document, and name their dialect', () => {
    expect(Object.keys(schemas).sort()).toEqual([...documents.keys()].sort());
    for (const schema of Object.values(schemas))
      expect(schema).toMatchObject({
        $schema: 'https://json-schema.org/draft/2020-12/schema',
        title: expect.any(String),
      });
  });

  it.each([...documents.entries()])('%s agrees with the demo shop', (kind, all) => {
    expect(all.length).toBeGreaterThan(0);
    for (const one of all) expect(wrong(one, schemas[kind] as Schema)).toEqual([]);
  });

  it.each([
    ['front-matter', { title: 'x', nmber: 3 }],
    ['sizes', { outline: { width: '3 in' } }],
    ['parts', { leg: { stock: '2x4', runs: 'upward' } }],
    ['joints', [{ join: 'a', to: 'b', by: 'nail' }]],
    ['hardware', [{ item: 'x' }]],
    ['step', { adds: 'leg' }],
    ['shop', {}],
    ['stock-list', { name: 'x' }],
    ['hardware-file', { hook: { name: 'x', package: 0, price: {} } }],
    ['on-hand', { pieces: [{ stock: '2x4' }] }],
    ['on-hand', { pieces: [{ stock: '2x4', length: '60 in', count: 0 }] }],
    ['on-hand', { pieces: [{ stock: '2x4', length: '60 in', colour: 'red' }] }],
  ])('%s refuses what the reader refuses', (kind, value) => {
    expect(wrong(value, schemas[kind] as Schema).length).toBeGreaterThan(0);
  });
});
