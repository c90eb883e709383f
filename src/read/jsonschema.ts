/** JSON Schema for editors, generated from the schemas that validate, so that both know the same keys. */
import { z } from 'zod';
import type { EditorForm } from './forms.ts';
import * as blocks from './schemas/blocks.ts';
import { frontMatter } from './schemas/front.ts';
import { onHand } from './schemas/on-hand.ts';
import { shop } from './schemas/shop.ts';
import { hardware, stockList } from './schemas/stock.ts';

const TABLES: readonly (readonly [name: string, title: string, schema: z.ZodType])[] = [
  ['front-matter', 'Front matter of a plan', frontMatter],
  ['sizes', 'A sizes block', blocks.sizes],
  ['variants', 'A variants block', blocks.variants],
  ['parts', 'A parts block', blocks.parts],
  ['joints', 'A joints block', blocks.joints],
  ['hardware', 'A hardware block', blocks.uses],
  ['step', 'A step block', blocks.step],
  ['shop', 'The shop file', shop],
  ['stock-list', 'A stock list', stockList],
  ['hardware-file', 'A hardware file', hardware],
  ['on-hand', 'What is on hand', onHand],
];

/**
 * The schemas (JSON Schema 2020-12) by name: `front-matter`, the six blocks, `shop`, `stock-list`, `hardware-file`, `on-hand`. They describe
 * what an editor's YAML reader sees: `2` is a number there, and text here.
 */
export function editorSchemas(): Readonly<Record<string, object>> {
  return Object.fromEntries(
    TABLES.map(([name, title, schema]) => {
      const made = z.toJSONSchema(schema, {
        io: 'input',
        unrepresentable: 'any',
        override: ({ zodSchema, jsonSchema }) => {
          const form = (zodSchema as unknown as z.ZodType).meta?.() as EditorForm | undefined;
          if (form?.editor === undefined) return;
          const { description } = jsonSchema;
          for (const key of Object.keys(jsonSchema)) delete jsonSchema[key as keyof typeof jsonSchema];
          Object.assign(jsonSchema, form.editor, description === undefined ? {} : { description });
        },
      });
      return [name, { ...made, title }];
    }),
  );
}
