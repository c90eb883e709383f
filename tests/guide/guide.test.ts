/** Every example of the language guide is read and built in both editions. */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { cutList } from '../../src/cutting/cut-list.ts';
import { diagnosticText, hasErrors } from '../../src/diagnostics.ts';
import { writeInstructions } from '../../src/instructions/index.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import { buildPlan } from '../../src/model/plan.ts';
import { readShop } from '../../src/read/shop.ts';
import type { PlanSource, ShopSource } from '../../src/read/types.ts';
import { inVariants } from '../../src/read/variants.ts';
import { readLength } from '../../src/units.ts';
import { demoFiles } from '../support/demo.ts';

const guide = readFileSync(new URL('../../src/GUIDE.md', import.meta.url), 'utf8');
const shopFiles = demoFiles();

const FRONT = `---
title: Example
number: 1
summary: An example of the guide.
kind: example
skill: None
time: None
revisions: [{ revision: A, date: 2026-01-09, note: First print. }]
---
`;
const OUTLINE = `
\`\`\`sizes
outline: { width: 40 in | 1000 mm, depth: 14 in | 350 mm, height: 30 in | 760 mm }
\`\`\`
`;

/** Reads a plan and builds it in every edition; gives what is wrong, as text. */
async function faults(plan: string): Promise<string[]> {
  const { value, diagnostics } = await readShop(
    new Map([...shopFiles, ['content/plans/example/plan.md', plan]]),
  );
  const all = [...diagnostics];
  const source = value?.plans.find((item) => item.slug === 'example');
  let built = 0;
  if (value && source) {
    for (const variant of inVariants(source))
      for (const edition of value.shop.editions) {
        const outcome = buildPlan(variant, edition, value);
        all.push(...outcome.diagnostics);
        if (outcome.value) {
          built++;
          all.push(...findJoinery(outcome.value, value.hardware).diagnostics);
        }
      }
  }
  if (built < 2 && !hasErrors(all)) return ['not built, and no fault said'];
  return all.filter((item) => item.severity === 'error').map(diagnosticText);
}

/** A plan as it is read among those of the demo shop. */
async function planWritten(text: string): Promise<{ plan: PlanSource; shop: ShopSource }> {
  const { value } = await readShop(new Map([...shopFiles, ['content/plans/example/plan.md', text]]));
  return { shop: value!, plan: value!.plans.find((item) => item.slug === 'example')! };
}

/** Keys at the margin of a parts block. */
const partKeys = (block: string): string[] =>
  [...block.matchAll(/^([a-z][\w-]*):/gm)].map((match) => match[1]!);

const examples = [...guide.matchAll(/````markdown\n([\s\S]*?)````/g)].map((match) => match[1]!);

describe('the guide', () => {
  test('its whole plan builds in both editions', async () => {
    expect(examples).toHaveLength(3);
    expect(await faults(examples[0]!)).toEqual([]);
  });

  test('the drawing that its last plan names stands for the piece in both editions', async () => {
    const { plan, shop } = await planWritten(examples[2]!);
    expect(await faults(examples[2]!)).toEqual([]);
    for (const edition of shop.shop.editions) {
      const built = buildPlan(plan, edition, shop).value!;
      const words = writeInstructions({
        plan: built,
        cutList: cutList(built),
        joinery: findJoinery(built, shop.hardware),
        shop: shop.shop,
      });
      expect(words.diagnostics).toEqual([]);
      // About the line from left to right a turn by the right-hand rule takes the front edge down: up is a negative angle.
      expect(words.picture).toMatchObject({ name: 'open-lid', open: { parts: ['lid'], angle: -100 } });
    }
  });

  const sections = guide
    .replace(/````[\s\S]*?````/g, '')
    .split(/^## /m)
    .map((section) => ({
      title: section.slice(0, section.indexOf('\n')),
      blocks: [...section.matchAll(/^```(sizes|variants|parts|joints|hardware)\n([\s\S]*?)^```$/gm)].map(
        (match) => ({
          kind: match[1]!,
          text: match[2]!,
        }),
      ),
    }))
    .filter((section) => section.blocks.some((block) => block.kind === 'parts'));

  test('has examples in these sections', () => {
    expect(sections.map((section) => section.title)).toEqual([
      'Formulas',
      'Parts',
      'Copies',
      'Courses',
      'Shapes',
      'Leaning parts',
      'Glued-up panels',
      'Full-size templates',
      'Joints and hardware',
      'Steps',
      'Variants',
    ]);
  });

  test.each(sections)('the examples of "$title" build in both editions', async ({ title, blocks }) => {
    const sizes = blocks.some((block) => block.kind === 'sizes') ? '' : OUTLINE;
    const keys = blocks.flatMap((block) => (block.kind === 'parts' ? partKeys(block.text) : []));
    const steps =
      title === 'Steps'
        ? (examples[1] ?? '')
        : `## Steps\n\n### All\n\n\`\`\`step\nadds: [${keys.join(', ')}]\n\`\`\`\n`;
    const text = blocks.map((block) => `\`\`\`${block.kind}\n${block.text}\`\`\`\n`).join('\n');
    expect(await faults(`${FRONT}${sizes}\n${text}\n${steps}`)).toEqual([]);
  });

  test('its lengths are lengths', () => {
    const line = guide.split('\n').find((row) => row.startsWith('`3 1/2 in`'));
    const lengths = [...(line ?? '').matchAll(/`([^`]+)`/g)].map((match) => match[1]!);
    expect(lengths.length).toBeGreaterThan(7);
    for (const length of lengths) expect(readLength(length), length).toHaveProperty('length');
  });
});
