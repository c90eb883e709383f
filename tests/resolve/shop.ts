/**
 * An invented shop for tests of resolving and of the model: an inch list and a millimetre list, two editions, a little hardware;
 * and plans written as text, so that places in messages are real.
 */

import { type Diagnostic, diagnosticText, sortDiagnostics } from '../../src/diagnostics.ts';
import { buildPlan } from '../../src/model/plan.ts';
import type { Copy, Part, Plan } from '../../src/model/types.ts';
import { readPlan } from '../../src/read/plan.ts';
import type {
  Edition,
  HardwareItem,
  PlanSource,
  ShopSource,
  StockItem,
  StockList,
} from '../../src/read/types.ts';
import { INCH, inches, type Length, mm } from '../../src/units.ts';
import { imperial } from '../support/sample.ts';

const origin = { file: 'content/stock/test.yaml', line: 1, column: 1 };

interface Board {
  readonly key: string;
  readonly thickness: Length;
  readonly width: Length;
  readonly standsFor?: readonly string[];
  /** Length of the tongue, where it has one. */
  readonly tongue?: Length;
  readonly species?: readonly string[];
}

const item = (board: Board): StockItem => ({
  key: board.key,
  label: board.key.replace('x', '×'),
  stands_for: board.standsFor ?? [],
  thickness: board.thickness,
  width: board.width,
  profile: board.tongue ? 'tongue-and-groove' : 'square',
  cover: mm(board.width - (board.tongue ?? 0)),
  tongue: board.tongue ?? mm(0),
  lengths: [
    {
      length: inches(96),
      label: '8 ft',
      prices: Object.fromEntries((board.species ?? ['pine']).map((one) => [one, 8])),
    },
  ],
  origin,
});

const list = (key: string, name: string, region: string, items: readonly StockItem[]): StockList => ({
  key,
  file: `content/stock/${key}.yaml`,
  name,
  region,
  currency: region === 'United States' ? 'USD' : 'EUR',
  species: [
    { key: 'pine', name: 'Pine' },
    { key: 'cedar', name: 'Western redcedar' },
  ],
  defaultSpecies: 'pine',
  endTrim: mm(5),
  items,
});

/** Dressed sizes of PS 20-20, Table 3 (check values T1.3); the tongue-and-groove board is T1.6: 5-3/8 over all, 5-1/8 face. */
export const inchList = list('north', 'North softwood', 'United States', [
  item({ key: '1x2', thickness: inches(3 / 4), width: inches(1.5) }),
  item({ key: '1x4', thickness: inches(3 / 4), width: inches(3.5), species: ['pine', 'cedar'] }),
  item({ key: '1x6', thickness: inches(3 / 4), width: inches(5.5), species: ['pine', 'cedar'] }),
  item({ key: '2x4', thickness: inches(1.5), width: inches(3.5) }),
  item({ key: '2x2', thickness: inches(1.5), width: inches(1.5) }),
  item({ key: '1x6 T&G', thickness: inches(3 / 4), width: inches(5.375), tongue: inches(0.25) }),
]);

/** Invented millimetre sections of the kind that check values T2.1 lists. */
export const metricList = list('metric', 'Planed softwood', 'Europe', [
  item({ key: '18x45', thickness: mm(18), width: mm(45), standsFor: ['1x2'] }),
  item({ key: '18x95', thickness: mm(18), width: mm(95), standsFor: ['1x4'] }),
  item({ key: '18x145', thickness: mm(18), width: mm(145), standsFor: ['1x6'] }),
  item({ key: '45x95', thickness: mm(45), width: mm(95), standsFor: ['2x4'] }),
  item({ key: '20x120 T&G', thickness: mm(20), width: mm(130), tongue: mm(10), standsFor: ['1x6 T&G'] }),
]);

export const inch: Edition = { ...imperial, stockList: 'north' };
export const metric: Edition = {
  ...imperial,
  key: 'metric',
  name: 'Metric',
  numbers: { system: 'mm', denominator: 16 },
  side: 'right',
  stockList: 'metric',
  paper: 'a4',
};

/** An item of hardware. */
export const hardware = (key: string, more: Partial<HardwareItem> = {}): HardwareItem => ({
  key,
  name: key,
  package: 10,
  price: {},
  regions: [],
  outdoors: true,
  origin,
  ...more,
});

export const shop: ShopSource = {
  shop: {
    name: 'Nettlefield Woodshop',
    address: 'Nettlefield',
    url: 'https://example.com',
    currency: 'USD',
    strapline: '',
    about: '',
    licence: '',
    safety: [],
    checkout: {},
    theme: 'handbook',
    editions: [inch, metric],
  },
  stockLists: [inchList, metricList],
  hardware: [
    hardware('hook'),
    hardware('inch-hinge', { regions: ['United States'] }),
    hardware('pocket-screw-32', { fits: { joint: 'pocket screws', from: mm(17), to: mm(20) } }),
    hardware('wood-screw-40', { fits: { joint: 'screws', from: mm(17), to: mm(20) } }),
  ],
  plans: [],
};

export interface Blocks {
  readonly sizes?: string;
  readonly parts: string;
  readonly joints?: string;
  readonly hardware?: string;
  /** Text after the blocks; one step that adds all parts where absent. */
  readonly steps?: string;
}

const OUTLINE = 'outline: { width: 40 in | 1000 mm, depth: 20 in | 500 mm, height: 30 in | 750 mm }';

/** A plan file's text. The outline is 40 × 20 × 30 in (1000 × 500 × 750 mm) where `sizes` doesn't give one. */
export function planText(blocks: Blocks): string {
  const sizes = blocks.sizes ?? '';
  const keys = [...blocks.parts.matchAll(/^([\w-]+):/gmu)].map((match) => match[1]);
  const fence = (kind: string, text: string | undefined): string =>
    text === undefined ? '' : `\`\`\`${kind}\n${text.trim()}\n\`\`\`\n\n`;
  return [
    '---\ntitle: Test\nnumber: 1\nsummary: For tests.\nkind: garden\nprice: free\nskill: Any\ntime: A day\n',
    'revisions: [{ revision: A, date: 2026-01-09, note: First. }]\n---\n\n',
    fence('sizes', /^outline:/mu.test(sizes) ? sizes : `${OUTLINE}\n${sizes}`),
    fence('parts', blocks.parts),
    fence('joints', blocks.joints),
    fence('hardware', blocks.hardware),
    blocks.steps ?? `## Steps\n\n### Build\n\n\`\`\`step\nadds: [${keys.join(', ')}]\n\`\`\`\n`,
  ].join('');
}

/** Reads a plan's text; throws where reading finds a fault, since these tests are about what follows. */
export function sourceOf(text: string, file = 'plan.md'): PlanSource {
  const { value, diagnostics } = readPlan('test', file, text);
  const errors = diagnostics.filter((one) => one.severity === 'error');
  if (!value || errors.length > 0) throw new Error(`not read: ${errors.map(diagnosticText).join('\n')}`);
  return value;
}

/** The plan for an edition; throws with the messages where it has errors. */
export function built(blocks: Blocks, edition: Edition = inch): Plan {
  const { value, diagnostics } = buildPlan(sourceOf(planText(blocks)), edition, shop);
  if (!value) throw new Error(diagnostics.map(diagnosticText).join('\n'));
  return value;
}

/** What is said about a plan, as lines `line:column id: message`, in the file's order. */
export function said(blocks: Blocks, edition: Edition = inch): readonly string[] {
  const { diagnostics } = buildPlan(sourceOf(planText(blocks)), edition, shop);
  return sortDiagnostics(diagnostics).map(line);
}

export const line = ({ origin, id, message }: Diagnostic): string =>
  `${origin.line}:${origin.column} ${id}: ${message}`;

export const part = (plan: Plan, key: string): Part => {
  const found = plan.parts.find((one) => one.key === key);
  if (!found) throw new Error(`no part ${key}`);
  return found;
};

/** Bounds of a copy as `[[left, right], [front, back], [bottom, top]]`, in the unit given (mm), to 6 decimals. */
export function box(copy: Copy | undefined, unit = 1): readonly (readonly [number, number])[] {
  if (!copy) throw new Error('no copy');
  const tidy = (value: number): number => Number((value / unit).toFixed(6)) + 0;
  const { min, max } = copy.bounds;
  return [0, 1, 2].map((i) => [tidy(min[i] as number), tidy(max[i] as number)] as const);
}

/** Bounds in inches. */
export const inchBox = (copy: Copy | undefined): readonly (readonly [number, number])[] => box(copy, INCH);
