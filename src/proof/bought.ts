/**
 * What a buyer would miss at the bench or couldn't buy: joints that are glued without a glue on the shopping list, and layouts that rest
 * on boards that only the maker has. Source: none needed.
 */
import type { Rule } from './types.ts';

const ON_HAND_FILE = 'content/on-hand.yaml';

/** Glue isn't chosen by a joint as screws are, since which one is right depends on where the piece stands. */
const unglued: Rule = ({ plan }) => {
  const glued = plan.joints.find(({ by }) => by === 'glue');
  const listed = plan.hardware.some(
    ({ item }) => item.fits?.joint === 'glue' || /\bglue\b/i.test(`${item.name} ${item.key}`),
  );
  if (!glued || listed) return [];
  return [
    {
      id: 'joint.glue-missing',
      severity: 'warning',
      origin: glued.origin,
      message: 'expected a glue in the hardware block, since joints are glued, found none',
      hint: '- { item: wood-glue, count: 1 }',
    },
  ];
};

/** Banding is bought by its length, once the hardware says which. */
const unbanded: Rule = ({ plan }) => {
  const part = plan.parts.find(({ banded }) => banded && banded.length > 0);
  if (!part || plan.hardware.some(({ item }) => item.bands)) return [];
  return [
    {
      id: 'part.banding-missing',
      severity: 'warning',
      origin: part.origin,
      message: `expected edge banding in the hardware block, since edges of "${part.key}" are banded, found none`,
      hint: '- { item: edge-banding, count: 1 }',
      parts: [part.key],
    },
  ];
};

/** A plan is sold to strangers: they don't have what lies in the maker's rack. */
const onHand: Rule = ({ plan, layouts }) => {
  const own = [
    ...layouts.boards.map((one) => ({ ...one, size: one.lengthLabel })),
    ...(layouts.sheets ?? []).map((one) => ({ ...one, size: one.sizeLabel })),
  ].filter((one) => one.own);
  if (own.length === 0) return [];
  const counts = new Map<string, number>();
  for (const { count, stock, size } of own) {
    const called = `${stock.label}, ${size.replace(/, on hand.*$/, '')}`;
    counts.set(called, (counts.get(called) ?? 0) + count);
  }
  const found = [...counts].map(([called, count]) => `${count} of ${called}`);
  return [
    {
      id: 'on-hand.used',
      severity: 'warning',
      origin: { file: ON_HAND_FILE, line: 1, column: 1 },
      message: `expected layouts of what a buyer of "${plan.slug}" can get, found ${found.join('; ')}, which only you have`,
      hint: `take ${ON_HAND_FILE} away before you publish for others`,
    },
  ];
};

export const bought: Rule = (input) => [...unglued(input), ...unbanded(input), ...onHand(input)];
