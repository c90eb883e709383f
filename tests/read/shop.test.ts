/** A whole shop: the demo shop, and what has to agree between files. */
import { readdirSync, readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { diagnosticText } from '../../src/diagnostics.ts';
import { readShop } from '../../src/read/shop.ts';
import type { ShopSource, StockItem } from '../../src/read/types.ts';

const demo = new Map(
  (readdirSync('content', { recursive: true }) as string[])
    .map((path) => `content/${path.replaceAll('\\', '/')}`)
    .filter((path) => /\.(?:md|yaml)$/u.test(path))
    .map((path) => [path, readFileSync(path, 'utf8')] as const),
);

/** The demo shop with some files changed; what it is told. */
async function told(changes: Readonly<Record<string, string | undefined>>) {
  const files = new Map(demo);
  for (const [path, text] of Object.entries(changes))
    if (text === undefined) files.delete(path);
    else files.set(path, text);
  const { value, diagnostics } = await readShop(files);
  return { value, said: diagnostics.map((one) => diagnosticText(one).split('\n')[0]) };
}

const text = (path: string) => demo.get(path) ?? '';

/** Line and column of the first place of a word in a file, counted on its text. */
function at(path: string, word: string): readonly [line: number, column: number] {
  const before = text(path).slice(0, text(path).indexOf(word)).split('\n');
  return [before.length, (before.at(-1) ?? '').length + 1];
}

/** The same as a report gives it, for the value after a key. */
function place(path: string, key: string): string {
  const [line, column] = at(path, key);
  // A key that begins with a line break stands in the next line.
  if (key.startsWith('\n')) return `${path}:${line + 1}:${key.length}:`;
  return `${path}:${line}:${column + key.length}:`;
}

describe('the demo shop', () => {
  let shop: ShopSource;
  beforeAll(async () => {
    const { value, diagnostics } = await readShop(demo);
    expect(diagnostics.map(diagnosticText)).toEqual([]);
    shop = value as ShopSource;
  });

  it('is read whole', () => {
    expect(shop.plans.map((plan) => plan.slug)).toEqual([
      'coat-rack',
      'nest-box',
      'potting-bench',
      'step-stool',
      'window-seat',
    ]);
    expect(shop.stockLists.map((list) => [list.key, list.currency])).toEqual([
      ['metric-softwood', 'EUR'],
      ['north-american-softwood', 'USD'],
    ]);
    expect(shop.shop.safety.length).toBeGreaterThan(5);
    expect(shop.shop.url).toMatch(/\.example\.com\/$/u);
  });

  it('has the two editions', () => {
    expect(shop.shop.editions).toEqual([
      {
        key: 'imperial',
        name: 'Imperial',
        numbers: { system: 'inch', denominator: 16 },
        side: 'left',
        stockList: 'north-american-softwood',
        paper: 'letter',
        projection: 'third angle',
        kerf: 3.175,
        language: 'en-US',
      },
      {
        key: 'metric',
        name: 'Metric',
        numbers: { system: 'mm', denominator: 16 },
        side: 'right',
        stockList: 'metric-softwood',
        paper: 'a4',
        projection: 'first angle',
        kerf: 3,
        language: 'en-GB',
      },
    ]);
  });

  it('has a metric board for every North American name but the widest two, near it in size', () => {
    const [metric, inch] = shop.stockLists;
    const means = (name: string) =>
      (metric?.items ?? []).filter((item: StockItem) => item.key === name || item.stands_for.includes(name));
    for (const item of inch?.items ?? []) {
      const found = means(item.key);
      if (item.key === '1x12' || item.key === '2x12') {
        expect(found).toEqual([]);
        continue;
      }
      expect(
        found.map((one) => one.profile),
        item.key,
      ).toEqual([item.profile]);
      // Near enough to stand in the same place: within 8 mm in thickness and 16 mm in width, common practice, no source.
      expect(Math.abs((found[0]?.thickness ?? 0) - item.thickness), item.key).toBeLessThan(8);
      expect(Math.abs((found[0]?.cover ?? 0) - item.cover), item.key).toBeLessThan(16);
    }
    // Every species a plan may name is in both lists.
    const species = (list: (typeof shop.stockLists)[0] | undefined) =>
      list?.species.map((one) => one.key) ?? [];
    expect(species(metric)).toEqual(expect.arrayContaining([...species(inch)]));
  });

  it('sells a Swedish tongue-and-groove board as retail and standard count it: 23 x 95 covers 85 (T1.6, Swedish Wood)', () => {
    const board = shop.stockLists[0]?.items.find((item) => item.key === '23x95 T&G');
    expect([board?.thickness, board?.width, board?.cover, board?.tongue]).toEqual([23, 95, 85, 10]);
  });

  it('has the usual pocket screw for each thickness (T5.3: common practice, no source)', () => {
    const rows: readonly (readonly [readonly number[], number, number])[] = [
      // Stock in mm (1/2 in = 12.7 mm), screw in inches and in mm.
      [[12.7, 12, 13], 1, 25],
      [[15.875, 15, 16], 1, 25],
      [[19.05, 18, 19], 1.25, 32],
      [[22.225, 22], 1.5, 38],
      [[25.4, 25], 1.5, 38],
      [[28.575, 28, 29], 2, 50],
      [[31.75, 32], 2, 50],
      [[34.925, 35], 2.5, 64],
      [[38.1, 38], 2.5, 64],
    ];
    for (const [stock, inch, mm] of rows)
      for (const thickness of stock) {
        const fit = shop.hardware.filter(
          ({ fits }) => fits?.joint === 'pocket screws' && fits.from <= thickness && thickness <= fits.to,
        );
        expect(
          fit.map((item) => [item.lengths?.inch, item.lengths?.mm]),
          `${thickness}`,
        ).toEqual([[expect.closeTo(inch * 25.4, 9), mm]]);
      }
  });

  it('prices all hardware in both currencies, and has what the plans ask for', () => {
    for (const item of shop.hardware) expect(Object.keys(item.price)).toEqual(['EUR', 'USD']);
    const keys = shop.hardware.map((item) => item.key);
    for (const plan of shop.plans)
      for (const use of plan.hardware) expect(keys, use.item.text).toContain(use.item.text);
  });
});

describe('what has to agree between files', () => {
  const shopFile = text('content/shop.yaml');
  const bench = text('content/plans/potting-bench/plan.md');

  it('a plan number of its own', async () => {
    const { said } = await told({
      'content/plans/potting-bench/plan.md': bench.replace('number: 7', 'number: 3'),
    });
    expect(said).toEqual([
      'content/plans/potting-bench/plan.md:1:1: error: expected a number of its own for each plan, found number 3, which content/plans/nest-box/plan.md has already [plan.number-twice]',
    ]);
  });

  it('a checkout link for a plan with a price', async () => {
    const { said } = await told({ 'content/shop.yaml': shopFile.replace(/ {2}potting-bench:.*\n/u, '') });
    expect(said).toEqual([
      'content/plans/potting-bench/plan.md:1:1: warning: expected a checkout link for "potting-bench" in content/shop.yaml, since it has a price, found none [plan.checkout-missing]',
    ]);
  });

  it('no checkout link for free plans, under a key that stands there empty', async () => {
    const free = Object.fromEntries(
      [...demo]
        .filter(([path]) => path.endsWith('plan.md'))
        .map(([path, plan]) => [path, plan.replace(/^price: .*$/mu, 'price: free')]),
    );
    const empty = shopFile.replace(/^checkout:\n(?: {2}.*\n)*/mu, 'checkout:\n');
    expect(empty).toContain('\ncheckout:\n\n');
    const { said, value } = await told({ ...free, 'content/shop.yaml': empty });
    expect(said).toEqual([]);
    expect(value?.shop.checkout).toEqual({});
  });

  it('one file for each key of the hardware', async () => {
    const { said } = await told({
      'content/hardware/more.yaml': 'strap-hinge:\n  name: Hinge\n  package: 2\n  price: { USD: 3 }\n',
    });
    expect(said).toEqual([
      `content/hardware/more.yaml:1:1: error: expected each piece of hardware once, found "strap-hinge" again, which stands in content/hardware/fittings.yaml, line ${at('content/hardware/fittings.yaml', 'strap-hinge')[0]}, already [hardware-file.key-twice]`,
    ]);
  });

  it('a folder name that can be a web address', async () => {
    const nest = text('content/plans/nest-box/plan.md').replace('number: 3', 'number: 99');
    const { said } = await told({ 'content/plans/Nest Box 2/plan.md': nest });
    expect(said).toEqual([
      'content/plans/Nest Box 2/plan.md:1:1: error: expected a folder name in small letters, digits and hyphens, since it becomes the web address, found "Nest Box 2" [plan.folder]',
    ]);
  });

  it('a shop file', async () => {
    const { value, said } = await told({ 'content/shop.yaml': undefined });
    expect(value).toBeUndefined();
    expect(said).toEqual([
      'content/shop.yaml:1:1: error: expected a shop file with the name, address, licence and safety texts, found none [shop.missing]',
    ]);
  });

  it('an edition of the shop’s own', async () => {
    const own = `${shopFile}  canada:\n    like: imperial\n    name: Canada\n    stock: north-american-softwood\n    units: mm\n    kerf: 1/16 in\n    language: en-CA\n`;
    const { value, said } = await told({ 'content/shop.yaml': own });
    expect(said).toEqual([]);
    expect(value?.shop.editions[2]).toEqual({
      key: 'canada',
      name: 'Canada',
      numbers: { system: 'mm', denominator: 16 },
      side: 'left',
      stockList: 'north-american-softwood',
      paper: 'letter',
      projection: 'third angle',
      kerf: 1.5875,
      language: 'en-CA',
    });
  });

  it('says the faults of all files in one run, in the order of files and places', async () => {
    const { value, said } = await told({
      'content/shop.yaml': shopFile.replace('currency: USD', 'currency: Dollars'),
      'content/plans/potting-bench/plan.md': bench.replace('runs: up', 'runs: upp').replace('by: ', 'by: a '),
      'content/stock/metric-softwood.yaml': text('content/stock/metric-softwood.yaml').replace(
        'end trim: 5 mm',
        'end trim: 5',
      ),
      'content/hardware/fittings.yaml': text('content/hardware/fittings.yaml').replace(
        'package: 5',
        'package: five',
      ),
    });
    expect(said.map((line) => line?.replace(/ error:.*\[/u, ' ['))).toEqual([
      `${place('content/hardware/fittings.yaml', 'package: ')} [hardware-file.value]`,
      `${place('content/plans/potting-bench/plan.md', 'runs: ')} [parts.value]`,
      `${place('content/plans/potting-bench/plan.md', 'by: ')} [joints.value]`,
      `${place('content/shop.yaml', '\ncurrency: ')} [shop.value]`,
      `${place('content/stock/metric-softwood.yaml', '\nend trim: ')} [stock.value]`,
    ]);
    expect(value?.plans.map((plan) => plan.slug)).toEqual([
      'coat-rack',
      'nest-box',
      'step-stool',
      'window-seat',
    ]);
  });
});
