/** Variants: one plan, several sizes. The sizes expected here are worked by hand from the plan in the test. */
import { describe, expect, it } from 'vitest';
import { type Diagnostic, diagnosticText, mergeEditions } from '../../src/diagnostics.ts';
import { baseName, planTitle, variantSlug } from '../../src/model/naming.ts';
import { buildPlan } from '../../src/model/plan.ts';
import { readShop } from '../../src/read/shop.ts';
import { inVariants } from '../../src/read/variants.ts';
import { demoFiles } from '../support/demo.ts';

const PLAN = `---
title: Bench
number: 90
summary: Two ends and a seat.
kind: seating
skill: None
time: None
revisions: [{ revision: A, date: 2026-01-09, note: First print. }]
---

\`\`\`variants
standard:
extra-long: { outline.width: 60 in | 1500 mm, inset: 6 in | 150 mm }
low: { outline.height: outline.width / 4 }
\`\`\`

\`\`\`sizes
outline: { width: 48 in | 1200 mm, depth: seat.width, height: 18 in | 450 mm }
inset: 4 in | 100 mm
\`\`\`

\`\`\`parts
end:
  stock: 1x6
  runs: up
  wide face: left
  at: { bottom: floor, top: seat.bottom, left: left + inset, front: front }
  copies: mirrored left-right
seat:
  stock: 1x6
  runs: across
  wide face: top
  at: { left: left, right: right, front: front, top: top }
\`\`\`

## Steps

### All

\`\`\`step
adds: [end, seat]
\`\`\`
`;

async function shopWith(slugs: readonly string[]) {
  const files = new Map(demoFiles());
  for (const [at, slug] of slugs.entries())
    files.set(`content/plans/${slug}/plan.md`, PLAN.replace('number: 90', `number: ${90 + at}`));
  return readShop(files);
}

describe('variants', () => {
  it('put their sizes in the place of those of the plan, in every edition', async () => {
    const { value: shop, diagnostics } = await shopWith(['bench']);
    expect(diagnostics.filter(({ severity }) => severity === 'error')).toEqual([]);
    const source = shop?.plans.find(({ slug }) => slug === 'bench');
    if (!shop || !source) throw new Error('the plan was not read');
    const made = inVariants(source).flatMap((one) =>
      shop.shop.editions.map((edition) => {
        const { value, diagnostics: said } = buildPlan(one, edition, shop);
        expect(said.map(diagnosticText)).toEqual([]);
        if (!value) throw new Error('not built');
        const end = value.parts.find(({ key }) => key === 'end')?.copies[0];
        return [
          baseName(value),
          planTitle(value),
          ...[value.outline.width, value.outline.height, end?.bounds.min[0], end?.cut.length].map((length) =>
            Number(length?.toFixed(6)),
          ),
        ];
      }),
    );
    // Seat boards are 3/4 in and 20 mm thick, which the ends lose of the height. 60 in / 4 = 15 in, 1500 / 4 is not asked for:
    // the low one keeps the width of the plan, 48 in / 4 = 12 in and 1200 mm / 4 = 300 mm. In inches × 25.4: 48 in is 1219.2.
    expect(made).toEqual([
      ['bench-standard-imperial', 'Bench, standard', 1219.2, 457.2, 101.6, 438.15],
      ['bench-standard-metric', 'Bench, standard', 1200, 450, 100, 430],
      ['bench-extra-long-imperial', 'Bench, extra long', 1524, 457.2, 152.4, 438.15],
      ['bench-extra-long-metric', 'Bench, extra long', 1500, 450, 150, 430],
      ['bench-low-imperial', 'Bench, low', 1219.2, 304.8, 101.6, 285.75],
      ['bench-low-metric', 'Bench, low', 1200, 300, 100, 280],
    ]);
  });

  it('are no matter of a plan without any', async () => {
    const { value: shop } = await readShop(new Map(demoFiles()));
    const source = shop?.plans.find(({ slug }) => slug === 'nest-box');
    if (!source) throw new Error('the plan was not read');
    expect(inVariants(source)).toEqual([source]);
    expect(variantSlug({ slug: 'nest-box' })).toBe('nest-box');
  });

  it("may not take the name of another plan's files", async () => {
    const { diagnostics } = await shopWith(['bench', 'bench-low']);
    expect(diagnostics.filter(({ id }) => id === 'variants.folder').map(diagnosticText)).toEqual([
      'content/plans/bench/plan.md:14:1: error: expected a variant whose files have names of their own, found "low", while there is a plan in content/plans/bench-low [variants.folder]\n    Give the variant another name.',
    ]);
  });

  it('share a finding that holds for all of them', () => {
    const found = (edition: string, variant: string, message = 'too thin'): Diagnostic => ({
      id: 'part.size',
      severity: 'error',
      origin: { file: 'a', line: 1, column: 1 },
      message,
      edition,
      variant,
    });
    const all = ['imperial', 'metric'].flatMap((edition) =>
      ['standard', 'long'].map((variant) => found(edition, variant)),
    );
    const text = (list: readonly Diagnostic[]) => mergeEditions(list, 2, () => 2).map(diagnosticText);
    expect(text(all)).toEqual(['a:1:1: error: too thin [part.size]']);
    expect(text(all.slice(0, 3))).toEqual([
      'a:1:1: error: too thin (imperial edition) [part.size]',
      'a:1:1: error: too thin (metric edition, standard) [part.size]',
    ]);
    expect(text(all.filter(({ variant }) => variant === 'long'))).toEqual([
      'a:1:1: error: too thin (long) [part.size]',
    ]);
  });
});
