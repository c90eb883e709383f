/** The package: what is in the zip, and that its bytes hang on the plan alone. */
import { createHash } from 'node:crypto';
import { strFromU8, strToU8, unzipSync } from 'fflate';
import { afterEach, describe, expect, it } from 'vitest';
import { cutListCsv, packageFiles, zipTime } from '../../src/publish/package.ts';
import { csv } from '../../src/publish/words/csv.ts';
import { bench, finishedBench, metric, shop } from '../support/finished.ts';
import { imperial } from '../support/sample.ts';

const pdfs = [
  { name: 'potting-bench-metric-a4.pdf', content: strToU8('%PDF metric') },
  { name: 'potting-bench-imperial-letter.pdf', content: strToU8('%PDF imperial') },
];
const zip = (bundle = bench): Uint8Array => packageFiles(bundle, pdfs, shop)[0]?.content as Uint8Array;

const timeZone = process.env.TZ;
afterEach(() => {
  if (timeZone === undefined) delete process.env.TZ;
  else process.env.TZ = timeZone;
});

describe('the package', () => {
  it('is one zip with sheets, lists, licence and revisions, in a folder of the plan’s name', () => {
    expect(packageFiles(bench, pdfs, shop).map(({ path }) => path)).toEqual(['packages/potting-bench.zip']);
    expect(Object.keys(unzipSync(zip()))).toEqual([
      'potting-bench/licence.txt',
      'potting-bench/manifest.json',
      'potting-bench/potting-bench-imperial-cut-list.csv',
      'potting-bench/potting-bench-imperial-letter.pdf',
      'potting-bench/potting-bench-imperial-saw-list.csv',
      'potting-bench/potting-bench-imperial-shopping-list.csv',
      'potting-bench/potting-bench-metric-a4.pdf',
      'potting-bench/potting-bench-metric-cut-list.csv',
      'potting-bench/potting-bench-metric-saw-list.csv',
      'potting-bench/potting-bench-metric-shopping-list.csv',
      'potting-bench/revisions.txt',
    ]);
  });

  it('is taken from a store where it holds the same files, and made anew where one has changed', () => {
    const store = new Map<string, Uint8Array>();
    const kept = {
      get: (key: string) => store.get(key),
      put: (key: string, zip: Uint8Array) => void store.set(key, zip),
    };
    const made = packageFiles(bench, pdfs, shop, kept)[0]?.content;
    expect(made).toEqual(zip());
    expect(packageFiles(bench, pdfs, shop, kept)[0]?.content).toBe(made);
    const other = pdfs.map(({ name, content }) => ({ name, content: strToU8(`${strFromU8(content)}!`) }));
    const changed = packageFiles(bench, other, shop, kept)[0]?.content as Uint8Array;
    expect(strFromU8(unzipSync(changed)['potting-bench/potting-bench-metric-a4.pdf'] as Uint8Array)).toBe(
      '%PDF metric!',
    );
    expect(store.size).toBe(2);
  });

  it('lists its files with their checksums', () => {
    const files = unzipSync(zip());
    const manifest = JSON.parse(strFromU8(files['potting-bench/manifest.json'] as Uint8Array));
    expect(manifest).toMatchObject({ title: 'Potting bench', number: 7, revision: 'C', date: '2026-03-14' });
    expect(manifest.files).toHaveLength(Object.keys(files).length - 1);
    for (const { name, bytes, sha256 } of manifest.files) {
      const content = files[`potting-bench/${name}`] as Uint8Array;
      expect(bytes).toBe(content.length);
      expect(sha256).toBe(createHash('sha256').update(content).digest('hex'));
    }
    // FIPS 180-4, the example "abc", so that the checksum above is the SHA-256 that a buyer's tool computes.
    expect(createHash('sha256').update('abc').digest('hex')).toBe(
      'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad',
    );
  });

  it('says who may do what, and what changed', () => {
    const files = unzipSync(zip());
    expect(strFromU8(files['potting-bench/licence.txt'] as Uint8Array)).toContain(
      'You may not pass the plan on',
    );
    const revisions = strFromU8(files['potting-bench/revisions.txt'] as Uint8Array);
    expect(revisions.indexOf('C  2026-03-14')).toBeGreaterThan(0);
    expect(revisions.indexOf('C  2026-03-14')).toBeLessThan(revisions.indexOf('A  2026-01-09'));
  });

  it('has the same bytes each time and in each time zone', () => {
    const first = Buffer.from(zip());
    for (const zone of ['UTC', 'America/Los_Angeles', 'Pacific/Kiritimati', 'Asia/Kolkata']) {
      process.env.TZ = zone;
      expect(Buffer.compare(Buffer.from(zip()), first), zone).toBe(0);
    }
  });

  it('dates its entries by the newest revision', () => {
    // APPNOTE 4.4.6, MS-DOS form: (2026 − 1980) · 512 + 3 · 32 + 14 = 23662; noon is 12 · 2048 = 24576.
    const view = new DataView(zip().slice().buffer);
    expect(view.getUint32(0, true)).toBe(0x04034b50);
    expect(view.getUint16(12, true)).toBe(23662);
    expect(view.getUint16(10, true)).toBe(24576);
  });

  it('dates what has no date, or one that a zip cannot hold, by the first day that it can', () => {
    // APPNOTE 4.4.6: 1980-01-01 is 0x0021; a year before 1980 or after 2107 has no form.
    const dated = (date: string) => {
      const front = { ...bench.front, revisions: [{ revision: 'A', date, note: '' }] };
      return new DataView(zip({ ...bench, front }).slice().buffer).getUint16(12, true);
    };
    for (const date of ['1979-12-31', '2108-01-01', '2026-02-30', 'some day'])
      expect(dated(date), date).toBe(0x0021);
    expect(zipTime(undefined)).toEqual(new Date(1980, 0, 1));
  });
});

describe('tables for a spreadsheet', () => {
  it('follow RFC 4180', () => {
    // Section 2, rules 6 and 7: fields with line breaks, quotes or commas are quoted, quotes doubled; lines end in CR LF.
    expect(
      csv([
        ['aaa', 'b\r\nbb', 'ccc'],
        ['zzz', 'b"bb', 'x,y'],
      ]),
    ).toBe('aaa,"b\r\nbb",ccc\r\nzzz,"b""bb","x,y"\r\n');
  });

  it('open as words what a spreadsheet would compute', () => {
    expect(csv([['=1+1', '@sum', -3]])).toBe("'=1+1,'@sum,-3\r\n");
  });

  it('hold the cut list as printed and in millimetres', () => {
    // Worked by hand: 35 1/4 in = 895.35 mm, 1 1/2 in = 38.1, 3 1/2 in = 88.9. Part C's name holds a comma.
    const lines = cutListCsv(finishedBench(imperial)).split('\r\n');
    expect(lines[1]).toBe('A,Front leg,2,2×4,pine,1 1/2″,3 1/2″,35 1/4″,38.1,88.9,895.35,');
    expect(lines[3]).toContain('C,"Long rail, front",2,');
    expect(cutListCsv(finishedBench(metric)).split('\r\n')[1]).toBe(
      'A,Front leg,2,45×95,pine,45 mm,95 mm,880 mm,45,95,880,',
    );
  });
});
