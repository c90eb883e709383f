/** The command as a user meets it: exit codes, what goes to which stream, and that nothing is written on a fault. */
import { cpSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { realDisk } from '../../src/disk.ts';
import { demoShop, kerfleaf, temporaryFolder } from '../support/run.ts';

const PLAN = 'content/plans/nest-box/plan.md';

const change = (shop: string, from: string, to: string): void => {
  const file = join(shop, PLAN);
  const text = readFileSync(file, 'utf8');
  expect(text).toContain(from);
  writeFileSync(file, text.replace(from, to));
};

describe('wrong use', () => {
  it.each([
    [['print'], /no command "print"/],
    [['publish', '--colour'], /--colour/],
    [['publish', '--shop', '/nowhere/at/all'], /no folder/],
    [['figures', 'no-such-plan'], /content\//],
  ])('%j gives 2', async (words, said) => {
    const folder = temporaryFolder();
    const ran = await kerfleaf(
      words.includes('--shop') || words[0] === 'print' ? words : [...words, '--shop', folder],
    );
    expect(ran.code).toBe(2);
    expect(ran.err).toMatch(said);
    expect(ran.out).toBe('');
  });

  it('names the plans there are', async () => {
    const ran = await kerfleaf(['proof', 'nestbox', '--shop', demoShop()]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('the plans are coat-rack, nest-box, potting-bench, step-stool, window-seat');
  });

  it('names the editions there are', async () => {
    const ran = await kerfleaf(['figures', 'nest-box', '--edition', 'royal', '--shop', demoShop()]);
    expect([ran.code, ran.out]).toEqual([2, '']);
    expect(ran.err).toContain('imperial, metric');
  });
});

describe('proof', () => {
  it('passes the demo shop', async () => {
    const ran = await kerfleaf(['proof', '--shop', demoShop()]);
    expect(ran.out).not.toContain(': error:');
    expect(ran.code).toBe(0);
  });

  it('gives each fault its place and hint, as text and as JSON, and 1', async () => {
    const shop = demoShop();
    change(shop, 'hanging-strip: 2 in | 50 mm', 'hanging-strip: 2 inn | 50 mm');
    const text = await kerfleaf(['proof', 'nest-box', '--shop', shop]);
    expect(text.code).toBe(1);
    const line = readFileSync(join(shop, PLAN), 'utf8')
      .split('\n')
      .findIndex((written) => written.startsWith('hanging-strip:'));
    expect(text.out).toMatch(
      new RegExp(`^${PLAN}:${line + 1}:\\d+: error: expected .*, found .*\\[[a-z.-]+\\]$`, 'm'),
    );
    const json = await kerfleaf(['proof', 'nest-box', '--format', 'json', '--shop', shop]);
    expect(json.code).toBe(1);
    const report = JSON.parse(json.out);
    expect(report.format).toBe('kerfleaf-proof/1');
    expect(report.findings[0]).toMatchObject({ file: PLAN, line: line + 1, severity: 'error' });
  });

  it('says nothing of fasteners that are missed because their joint has a fault', async () => {
    const shop = demoShop();
    const text = readFileSync(join(shop, PLAN), 'utf8');
    expect(text).toContain(':count[screws]');
    writeFileSync(join(shop, PLAN), text.replaceAll('by: screws', 'by: dowels'));
    const ran = await kerfleaf(['proof', 'nest-box', '--shop', shop]);
    expect(ran.code).toBe(1);
    expect(ran.out).toContain('tongues, notches and holes for dowels are cut under shape');
    expect(ran.out).not.toContain('[directive.none]');
    writeFileSync(join(shop, PLAN), text.replaceAll(':count[screws]', ':count[nails]'));
    expect((await kerfleaf(['proof', 'nest-box', '--shop', shop])).out).toContain('[directive.none]');
  });

  it('leaves the faults of other plans alone', async () => {
    const shop = demoShop();
    change(shop, '2 in | 50 mm', '2 inn | 50 mm');
    expect((await kerfleaf(['proof', 'potting-bench', '--shop', shop])).code).toBe(0);
  });
});

describe('publish', () => {
  it('writes nothing on a fault, and leaves the last site', async () => {
    const shop = demoShop();
    writeFileSync(join(shop, 'keep.txt'), '');
    change(shop, 'stock: 1x6', 'stock: 1x66');
    const ran = await kerfleaf(['publish', '--shop', shop]);
    expect(ran.code).toBe(1);
    expect(ran.out).toBe('');
    expect(ran.err).toContain('Nothing was written');
    expect(existsSync(join(shop, 'dist'))).toBe(false);
  });

  it('leaves a folder alone that holds something of somebody', async () => {
    const shop = demoShop();
    const ran = await kerfleaf(['publish', '--shop', shop, '--out', shop]);
    expect(ran.code).toBe(2);
    expect(ran.err).toContain('--out');
  });
});

describe('a bug of ours', () => {
  it('gives 3 and asks for a report', async () => {
    const disk = {
      ...realDisk(),
      files: (): string[] => {
        throw new TypeError('a bug made for this test');
      },
    };
    const ran = await kerfleaf(['proof', '--shop', demoShop()], disk);
    expect(ran.code).toBe(3);
    expect(ran.err).toMatch(/report.*\n.*kerfleaf 0\.\d+\.\d+, Node v\d+/);
    expect(ran.err).toContain('a bug made for this test');
  });
});

describe('figures', () => {
  let shop = '';
  beforeAll(() => {
    shop = demoShop();
  });

  it('prints JSON of the documented shape', async () => {
    const ran = await kerfleaf(['figures', 'nest-box', '--edition', 'imperial', '--shop', shop]);
    expect(ran.code).toBe(0);
    const figures = JSON.parse(ran.out);
    expect(figures.format).toBe('kerfleaf-figures/1');
    // FIGURES.md documents every field of the top level, and there is no other.
    const guide = readFileSync(new URL('../../src/FIGURES.md', import.meta.url), 'utf8');
    const documented = [...guide.matchAll(/^\| `([a-z]+)(?:\[\]|\.[a-z]+(?:\[\])?)?` \|/gim)].map(
      (match) => match[1],
    );
    expect(Object.keys(figures).filter((key) => !documented.includes(key))).toEqual([]);
    // Box height 10-1/4 in, from the plan: the sides are that long (10.25 × 25.4 = 260.35).
    const side = figures.cutList.rows.find((row: { part: string }) => row.part === 'side');
    expect(side).toMatchObject({ quantity: 2, length: { mm: 260.35, text: '10 1/4″' } });
    // The board as it stands: 3/4 in thick in the imperial list (PS 20), the left one at the left of the outline.
    const copy = figures.parts.find((part: { key: string }) => part.key === 'side').copies[0];
    expect(copy.bounds.min[0]).toBe(0);
    expect(copy.bounds.max[0]).toBe(19.05);
  });

  it('say where hardware is drawn: the pegs in their holes, 6 in apart', async () => {
    const ran = await kerfleaf(['figures', 'coat-rack', '--edition', 'imperial', '--shop', shop]);
    const { hardware } = JSON.parse(ran.out);
    const pegs = hardware.find(({ item }: { item: string }) => item === 'oak-peg');
    const [first, ...others] = pegs.places.map(({ at }: { at: number[] }) => at);
    expect(others).toHaveLength(4);
    // 6 in are 152.4 mm; they stand out of the front.
    others.forEach((at: number[], i: number) => {
      expect(at[0]).toBeCloseTo(first[0] + (i + 1) * 152.4, 6);
    });
    expect(pegs.places[0]).toMatchObject({ copy: 'board.1', out: [0, -1, 0] });
    // What has no outline is drawn nowhere.
    expect(hardware.find(({ item }: { item: string }) => item === 'wall-screw')).not.toHaveProperty('places');
  });

  it('prints the cut list as CSV that reads back', async () => {
    const ran = await kerfleaf([
      'figures',
      'nest-box',
      '--edition',
      'metric',
      '--format',
      'csv',
      '--shop',
      shop,
    ]);
    expect(ran.code).toBe(0);
    const lines = ran.out.split('\r\n');
    expect(lines[0]).toBe(
      'letter,part,name,quantity,thickness,width,length,thickness mm,width mm,length mm,stock,species,rip,fit,notes',
    );
    expect(lines.at(-1)).toBe('');
    const side = lines.find((line) => line.includes(',side,'));
    // Box height 260 mm in the metric edition.
    expect(side).toMatch(/^[A-Z],side,Side,2,20 mm,145 mm,260 mm,20,145,260,20x145,western redcedar/);
  });
});

describe('draft', () => {
  it('writes a plan that publishes as it is, in an empty folder', async () => {
    const shop = temporaryFolder();
    const drafted = await kerfleaf(['draft', 'tool-tote', '--shop', shop]);
    expect(drafted.err).toBe('');
    expect(drafted.code).toBe(0);
    const proof = await kerfleaf(['proof', '--shop', shop]);
    expect(proof.out).not.toMatch(/: (error|warning):/);
    const published = await kerfleaf(['publish', '--shop', shop]);
    expect(published.err).not.toMatch(/: (error|warning):/);
    expect(published.code).toBe(0);
    expect(existsSync(join(shop, 'dist/site/plans/tool-tote/index.html'))).toBe(true);
    expect(existsSync(join(shop, 'dist/packages/tool-tote.zip'))).toBe(true);
  });

  it('numbers the next plan, and never writes over a file', async () => {
    const shop = demoShop();
    expect((await kerfleaf(['draft', 'tool-tote', '--shop', shop])).code).toBe(0);
    const file = join(shop, 'content/plans/tool-tote/plan.md');
    // The demo plans are numbers 3 and 7 to 10.
    expect(readFileSync(file, 'utf8')).toContain('\nnumber: 11\n');
    expect(readFileSync(join(shop, 'content/shop.yaml'), 'utf8')).toContain('Nettlefield');
    writeFileSync(file, 'mine');
    const again = await kerfleaf(['draft', 'tool-tote', '--shop', shop]);
    expect(again.code).toBe(2);
    expect(again.err).toContain('already');
    expect(readFileSync(file, 'utf8')).toBe('mine');
  });
});

describe('themes', () => {
  it('names the themes there are, with the place in the shop file', async () => {
    const shop = demoShop();
    const file = join(shop, 'content/shop.yaml');
    const text = readFileSync(file, 'utf8').replace('theme: handbook', 'theme: handbok');
    writeFileSync(file, text);
    const line = text.split('\n').findIndex((written) => written.startsWith('theme:')) + 1;
    const ran = await kerfleaf(['proof', '--shop', shop]);
    expect(ran.code).toBe(1);
    expect(ran.out).toContain(
      `content/shop.yaml:${line}:8: error: expected the name of a theme: handbook, found "handbok" [theme.unknown]\n    theme: handbook\n`,
    );
  });

  it("takes the shop's own before the built-in one of the same name", async () => {
    const shop = demoShop();
    const own = join(shop, 'themes/handbook');
    cpSync(new URL('../../themes/handbook', import.meta.url), own, { recursive: true });
    const theme = JSON.parse(readFileSync(join(own, 'theme.json'), 'utf8'));
    writeFileSync(
      join(own, 'theme.json'),
      JSON.stringify({ ...theme, light: { ...theme.light, chalk: 'blue' } }),
    );
    const ran = await kerfleaf(['proof', '--shop', shop]);
    expect(ran.code).toBe(1);
    expect(ran.out).toMatch(/^themes\/handbook\/theme\.json:1:1: error: .*"chalk".*"blue"/m);
  });
});
