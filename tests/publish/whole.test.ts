/**
 * The demo shop from its text to its published files, and the promise that a size is written once: a change of one number in the
 * potting bench changes every table, drawing and sentence, and both PDFs. The PDFs are read back with poppler's pdftotext.
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { unzipSync } from 'fflate';
import { beforeAll, describe, expect, it } from 'vitest';
import { type Built, buildShop, computeShop } from '../../src/build.ts';
import { realDisk } from '../../src/disk.ts';
import { type Figures, figures } from '../../src/figures.ts';
import type { OutputFile } from '../../src/publish/types.ts';
import { memoryCache, noCache } from '../../src/shell/cache.ts';
import { localPool } from '../../src/shell/pool.ts';
import { perform } from '../../src/tasks.ts';
import { flowText } from '../support/pdf.ts';
import { demoShop } from '../support/run.ts';

const disk = realDisk();
const progress = { say: () => {}, clear: () => {} };
/** A free plan and a sold one; that all plans publish, and to the same bytes twice, is checked by the publish command itself. */
const PLANS = ['nest-box', 'potting-bench'];
const build = (shop: string, cache = noCache): Promise<Built> =>
  buildShop({ disk, shop, plans: PLANS, cache, progress, pool: localPool(perform) });

const bytes = (content: Uint8Array | string): Buffer => Buffer.from(content);
const byPath = (files: readonly OutputFile[]): Map<string, Buffer> =>
  new Map(files.map((file) => [file.path, bytes(file.content)]));

interface Published {
  readonly files: Map<string, Buffer>;
  /** What is in the potting bench's package, by name. */
  readonly packed: Map<string, Buffer>;
  readonly figures: Record<'imperial' | 'metric', Figures>;
  /** Text of each edition's PDF. */
  readonly text: Record<'imperial' | 'metric', string>;
}

async function published(shop: string, built: Built): Promise<Published> {
  expect(built.diagnostics.filter((item) => item.severity === 'error')).toEqual([]);
  const files = byPath(built.files ?? []);
  const zip = unzipSync(files.get('packages/potting-bench.zip') as Buffer);
  const packed = new Map(
    Object.entries(zip).map(([name, content]) => [name.split('/').at(-1) as string, bytes(content)]),
  );
  const computed = await computeShop({
    disk,
    shop,
    plans: ['potting-bench'],
    cache: noCache,
    progress,
    pool: localPool(perform),
  });
  const of = (key: string): Figures => {
    const edition = computed.plans[0]?.editions.find((item) => item.edition.key === key);
    if (edition === undefined) throw new Error(`no ${key} edition`);
    return figures(edition.computed, ['imperial', 'metric']);
  };
  const textOf = (name: string): string => flowText(packed.get(name) as Buffer);
  return {
    files,
    packed,
    figures: { imperial: of('imperial'), metric: of('metric') },
    text: {
      imperial: textOf('potting-bench-imperial-letter.pdf'),
      metric: textOf('potting-bench-metric-a4.pdf'),
    },
  };
}

/**
 * The change: the bench becomes wider. By hand, with an overhang of 1 in or 25 mm at each end and legs of 1 1/2 in or 45 mm:
 * aprons between the legs 48 − 2 − 3 = 43 in become 52 − 2 − 3 = 47 in; 1200 − 50 − 90 = 1060 mm become 1300 − 50 − 90 = 1160 mm.
 * Slats and back boards as wide as the legs stand: 46 → 50 in, 1150 → 1250 mm. Worktop and pot shelf: 48 → 52 in, 1200 → 1300 mm.
 */
const FROM = 'width: 48 in | 1200 mm';
const TO = 'width: 52 in | 1300 mm';
const EXPECTED = {
  imperial: {
    gone: ['43″', '46″', '48″'],
    come: ['47″', '50″', '52″'],
    aprons: 47,
    wide: '52″',
    apart: '47″ apart',
  },
  metric: {
    gone: ['1060', '1150', '1200'],
    come: ['1160', '1250', '1300'],
    aprons: 1160,
    wide: '1300',
    apart: '1160 mm apart',
  },
} as const;

let before: Published;
let after: Published;
let shop = '';

beforeAll(async () => {
  shop = demoShop();
  before = await published(shop, await build(shop));
  const file = join(shop, 'content/plans/potting-bench/plan.md');
  const text = readFileSync(file, 'utf8');
  expect(text.split(FROM)).toHaveLength(2);
  writeFileSync(file, text.replace(FROM, TO));
  after = await published(shop, await build(shop));
}, 600_000);

/** A size as a word of its own: `43″` is not in `143″`, nor in `43 1/2″`. */
const has = (text: string, size: string): boolean =>
  new RegExp(`(?<![0-9/.])(?<![0-9] )${size}(?![0-9])`).test(text);

describe('the demo shop', () => {
  it('publishes both plans, with both PDFs of each', () => {
    const { files, packed } = before;
    for (const slug of PLANS) {
      expect(files.has(`site/plans/${slug}/index.html`)).toBe(true);
      expect(files.has(`packages/${slug}.zip`)).toBe(true);
    }
    expect(files.has('site/plans/nest-box/nest-box-imperial-letter.pdf')).toBe(true);
    expect(files.has('site/plans/nest-box/nest-box-metric-a4.pdf')).toBe(true);
    expect([...packed.keys()].filter((name) => name.endsWith('.pdf')).sort()).toEqual([
      'potting-bench-imperial-letter-labels.pdf',
      // Its end shelf slats are notched round the legs.
      'potting-bench-imperial-letter-templates.pdf',
      'potting-bench-imperial-letter.pdf',
      'potting-bench-metric-a4-labels.pdf',
      'potting-bench-metric-a4-templates.pdf',
      'potting-bench-metric-a4.pdf',
    ]);
  });

  it('keeps what is sold out of the site', () => {
    const sold = [...before.files.keys()].filter(
      (path) => path.startsWith('site/') && path.includes('potting-bench'),
    );
    expect(sold.filter((path) => /\.(?:pdf|zip|csv|svg|json)$/.test(path))).toEqual([]);
  });

  it('says no size of a part on the page that sells the plan: not in words, attributes, data or pictures', () => {
    const raw = (before.files.get('site/plans/potting-bench/index.html') as Buffer).toString();
    // Its weight is told: a number of pounds or kilograms is no size.
    const words = raw.replace(/<[^>]*>/g, '').replace(/\b[0-9]+ (?:lb|kg)\b/g, '');
    for (const edition of ['imperial', 'metric'] as const) {
      const { outline, cutList } = before.figures[edition];
      const open = [outline.width.text, outline.depth.text, outline.height.text];
      const secret = cutList.rows.flatMap((row) => [row.length.text, row.width.text]);
      const told = [...new Set(secret)].filter((size) => !open.includes(size));
      expect(told.length).toBeGreaterThan(5);
      // the finished size is told, so that what is read here is what a reader reads
      expect(open.some((size) => has(words, size.replace(' mm', '')))).toBe(true);
      for (const size of told) {
        expect(has(words, size), `${size} in words`).toBe(false);
        expect(has(raw, size), `${size} in the file`).toBe(false);
        if (edition === 'metric') expect(has(words, size.replace(' mm', '')), `${size} bare`).toBe(false);
      }
    }
    expect(raw).not.toContain('<svg');
  });

  it('comes to the same bytes with results kept from earlier runs, and from a run before a change', async () => {
    const cache = memoryCache();
    // `after` was built from nothing; here the cache is filled by the plan as it was before the change.
    const file = join(shop, 'content/plans/potting-bench/plan.md');
    const changed = readFileSync(file, 'utf8');
    writeFileSync(file, changed.replace(TO, FROM));
    await build(shop, cache);
    writeFileSync(file, changed);
    for (const round of ['after a change', 'without a change']) {
      const files = byPath((await build(shop, cache)).files ?? []);
      expect([...files.keys()], round).toEqual([...after.files.keys()]);
      for (const [path, content] of files)
        expect(content.equals(after.files.get(path) as Buffer), `${path} ${round}`).toBe(true);
    }
  }, 600_000);
});

describe.each(['imperial', 'metric'] as const)('one size changed: the %s edition', (edition) => {
  const { gone, come, aprons, wide, apart } = EXPECTED[edition];
  const letters = (list: Figures['cutList']['rows'], part: string) => list.find((row) => row.part === part);

  it('has the new lengths in its figures', () => {
    const unit = edition === 'imperial' ? 25.4 : 1;
    const { rows } = after.figures[edition].cutList;
    for (const part of ['front-apron', 'back-apron', 'low-front-rail', 'low-back-rail'])
      expect(letters(rows, part)?.length.mm, part).toBeCloseTo(aprons * unit, 6);
    expect(letters(rows, 'cap')?.length.mm).toBeCloseTo((edition === 'imperial' ? 52 : 1300) * unit, 6);
  });

  it('prints each new length in the PDF and no old one', () => {
    for (const size of gone) {
      expect(has(before.text[edition], size), `${size} before`).toBe(true);
      expect(has(after.text[edition], size), `${size} after`).toBe(false);
    }
    for (const size of come) expect(has(after.text[edition], size), `${size} after`).toBe(true);
  });

  it('says it in the sentence of step 2 and in the finished size', () => {
    expect(after.text[edition]).toContain(apart);
    expect(after.text[edition]).toContain(`${wide} wide`);
  });

  it('has every row of the cut list in the PDF as the figures give it', () => {
    for (const row of after.figures[edition].cutList.rows) {
      const bare = (text: string) => text.replace(/ mm$/, '');
      // As the sheet reads: letter, name, number, stock, thickness, width, length.
      const sizes = [row.thickness, row.width, row.length].map((size) => bare(size.text)).join(' ');
      expect(after.text[edition], row.letter).toContain(`${row.letter} ${row.name} ${row.quantity} `);
      expect(after.text[edition], row.letter).toContain(sizes);
    }
  });

  it('changes every drawing that shows the width', () => {
    const sizes = (text: string, size: string) => text.split(size).length - 1;
    // Views, layouts and step drawings carry their sizes as real text: as many of each as before, with the new number.
    for (const [index, old] of gone.entries()) {
      const now = come[index] as string;
      expect(
        sizes(after.text[edition], now) - sizes(before.text[edition], now),
        `${old} → ${now}`,
      ).toBeGreaterThanOrEqual(3);
    }
  });

  it('changes the cut list and the shopping list in the package', () => {
    const cut = `potting-bench-${edition}-cut-list.csv`;
    const was = String(before.packed.get(cut));
    const is = String(after.packed.get(cut));
    for (const row of after.figures[edition].cutList.rows) expect(is).toContain(row.name);
    expect(was).not.toBe(is);
    expect(is.split(/\r?\n/).some((line) => line.includes('Front apron') && line.includes(`${aprons}`))).toBe(
      true,
    );
    expect(
      was.split(/\r?\n/).some((line) => line.includes('Front apron') && line.includes(`${aprons}`)),
    ).toBe(false);
  });

  it('changes the page: the finished size in both systems, and the pictures', () => {
    const page = String(after.files.get('site/plans/potting-bench/index.html')).replaceAll(/<[^>]+>/g, '');
    const old = String(before.files.get('site/plans/potting-bench/index.html')).replaceAll(/<[^>]+>/g, '');
    expect(page).toContain(wide);
    expect(old).not.toContain(wide);
    const pictures = (files: Map<string, Buffer>) =>
      [...files.keys()].filter((path) => /potting-bench\/.*\.(?:webp|png)$/.test(path));
    expect(pictures(before.files).length).toBeGreaterThan(0);
    // A picture's name carries a hash of its content.
    expect(pictures(after.files).filter((path) => before.files.has(path))).toEqual([]);
  });
});

describe('what the change does not touch', () => {
  it('stays as it was, to the byte', () => {
    const touched = (path: string) => path.includes('potting-bench') || ['site/index.html'].includes(path);
    for (const [path, content] of before.files)
      if (!touched(path)) expect(after.files.get(path)?.equals(content), path).toBe(true);
  });
});
