/** Photos that can't be read: each is a finding with its place in the plan and what to do, and nothing is published without it. */
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { crc32, deflateSync } from 'node:zlib';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { type BuildInput, buildShop, computeShop } from '../../src/build.ts';
import { diagnosticText } from '../../src/diagnostics.ts';
import { realDisk } from '../../src/disk.ts';
import { MOST_PIXELS, photoSet, whyUnreadable } from '../../src/publish/pictures/sharp.ts';
import { siteFiles } from '../../src/publish/site.ts';
import { noCache } from '../../src/shell/cache.ts';
import { localPool } from '../../src/shell/pool.ts';
import { perform } from '../../src/tasks.ts';
import { handbook, paidBundle, sampleShop } from '../support/bundle.ts';
import { demoShop } from '../support/run.ts';

/** A picture of noise-free stripes, so that half of its bytes are half of it. */
const jpeg = (): Promise<Buffer> =>
  sharp({ create: { width: 400, height: 300, channels: 3, background: '#b08040' } })
    .composite([
      {
        input: Buffer.from(
          '<svg width="400" height="300"><circle cx="200" cy="150" r="120" fill="#204060"/></svg>',
        ),
      },
    ])
    .jpeg()
    .toBuffer();

/** A PNG by its specification (ISO/IEC 15948): signature, header, data, end; each chunk with its length and CRC. */
function png(width: number, height: number): Uint8Array {
  const chunk = (name: string, data: Buffer): Buffer => {
    const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
    const [length, check] = [Buffer.alloc(4), Buffer.alloc(4)];
    length.writeUInt32BE(data.length);
    check.writeUInt32BE(crc32(body));
    return Buffer.concat([length, body, check]);
  };
  const head = Buffer.alloc(13);
  head.writeUInt32BE(width, 0);
  head.writeUInt32BE(height, 4);
  head[8] = 1; // one bit a pixel, grey
  return Buffer.concat([
    Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(Buffer.alloc(16))),
    chunk('IEND', Buffer.alloc(0)),
  ]);
}

describe('a photo', () => {
  it('is told from what is none, and why', async () => {
    const good = await jpeg();
    const why = async (file: Uint8Array): Promise<string> => {
      const made = await photoSet(file, [100]);
      const said = 'unreadable' in made ? made.unreadable : 'read';
      // The proof looks and makes nothing: it has to say the same.
      expect((await whyUnreadable(file))?.unreadable ?? 'read').toBe(said);
      return said;
    };
    expect(await why(good)).toBe('read');
    expect(await why(new Uint8Array())).toBe('empty');
    expect(await why(new TextEncoder().encode('This is a letter, no picture.'))).toBe('no picture');
    expect(await why(good.subarray(0, good.length / 2))).toBe('broken');
    // ISO/IEC 14496-12: a box's length, `ftyp`, its brand.
    expect(await why(Buffer.concat([Buffer.from([0, 0, 0, 24]), Buffer.from('ftypheic0000mif1heic')]))).toBe(
      'heic',
    );
    // 12 000 × 10 001 is a row more than 120 million.
    expect(await why(png(12_000, 10_001))).toBe('too large');
    expect(12_000 * 10_000).toBe(MOST_PIXELS);
  });

  it('that cannot be read is an error at its place, and one that can is published', async () => {
    const shop = demoShop();
    try {
      const folder = join(shop, 'content/plans/nest-box');
      const file = join(folder, 'plan.md');
      const photos =
        'photos:\n  - { file: tree.jpg, alt: The box on a tree }\n  - { file: torn.jpg, alt: The box open }\n';
      const text = readFileSync(file, 'utf8')
        .replace(/^photos:\n(?: .*\n)*/m, '')
        .replace(/^---\n/, `---\n${photos}`);
      writeFileSync(file, text);
      const good = await jpeg();
      writeFileSync(join(folder, 'tree.jpg'), good);
      writeFileSync(join(folder, 'torn.jpg'), good.subarray(0, 1000));
      const input: BuildInput = {
        disk: realDisk(),
        shop,
        plans: ['nest-box'],
        cache: noCache,
        progress: { say: () => {}, clear: () => {} },
        pool: localPool(perform),
      };
      const run = () => buildShop(input);
      const torn = await run();
      expect(torn.files).toBeUndefined();
      const errors = torn.diagnostics.filter((item) => item.severity === 'error');
      expect(errors.map(diagnosticText)).toEqual([
        // The second photo's line; its file's name begins behind `  - { file: `.
        expect.stringContaining(
          'content/plans/nest-box/plan.md:4:13: error: expected a photo that can be read, found "torn.jpg", 1000 bytes: a picture that ends or breaks off in the middle',
        ),
      ]);
      expect(errors[0]?.hint).toContain('Copy it again from the camera');
      // `proof` computes and doesn't publish: it reports the same.
      const proofed = await computeShop(input);
      expect(proofed.diagnostics.filter((item) => item.severity === 'error')).toEqual(errors);
      writeFileSync(join(folder, 'torn.jpg'), good);
      const whole = await run();
      expect(whole.diagnostics.filter((item) => item.severity === 'error')).toEqual([]);
      const made = (whole.files ?? []).map(({ path }) => path).filter((path) => path.endsWith('.jpg'));
      for (const name of ['photo-1', 'photo-2'])
        expect(
          made.some((path) => path.includes(name)),
          name,
        ).toBe(true);
    } finally {
      rmSync(shop, { recursive: true });
    }
  }, 60_000);
});

describe('the picture that stands for the piece', () => {
  const page = async (picture: string | undefined, names: readonly string[]) => {
    const file = new Uint8Array(await jpeg());
    const front = {
      ...paidBundle.front,
      photos: names.map((name) => ({ file: name, alt: `A photo, ${name}` })),
      ...(picture === undefined
        ? {}
        : { picture: { text: picture, origin: { file: 'plan.md', line: 2, column: 10 } } }),
    };
    const made = await siteFiles({
      shop: sampleShop,
      bundles: [{ ...paidBundle, front }],
      theme: handbook(),
      pdfs: new Map(),
      photos: new Map(names.map((name) => [`${paidBundle.slug}/${name}`, file])),
    });
    const text = (path: string): string => made.find((one) => one.path === path)?.content as string;
    const plan = text('site/plans/paid-bench/index.html');
    const [head = '', rest = ''] = plan.split('<div class="words">');
    return { head, rest, catalogue: text('site/index.html') };
  };

  it('is the first photo, on the page', async () => {
    const { head, rest, catalogue } = await page(undefined, ['one.jpg', 'two.jpg']);
    expect(head).toContain('A photo, one.jpg');
    expect(head).toContain('The finished piece.<');
    expect(rest).toContain('A photo, two.jpg');
    expect(rest).not.toContain('A photo, one.jpg');
    expect(catalogue).toContain('the finished piece, drawn');
  });

  it('is the photo that the plan names, in the catalogue and for links too', async () => {
    const { head, rest, catalogue } = await page('two.jpg', ['one.jpg', 'two.jpg']);
    expect(head).toContain('A photo, two.jpg');
    expect(rest).toContain('A photo, one.jpg');
    expect(catalogue).toContain('A photo, two.jpg');
    expect(head).toMatch(/property="og:image" content="[^"]*photo-2-[^"]*\.jpg"/);
  });

  it('is the drawing that the plan names, whatever photos there are', async () => {
    const { head, rest } = await page('open-lid', ['one.jpg']);
    expect(head).toContain('drawn from the plan itself');
    expect(head).not.toContain('A photo');
    expect(rest).toContain('A photo, one.jpg');
  });
});
