import { describe, expect, it } from 'vitest';
import { outputProblem, recover, swapIn } from '../../src/shell/swap.ts';
import { type FakeDisk, fakeDisk } from '../support/fake-disk.ts';

const OLD = { '/shop/dist/site/index.html': 'old', '/shop/dist/packages/a.zip': 'old zip' };
const NEW = [
  { path: 'site/index.html', content: 'new' },
  { path: 'site/plans/a/index.html', content: 'new plan' },
  { path: 'packages/a.zip', content: new Uint8Array([1, 2, 3]) },
];

const siteOf = (disk: FakeDisk): string => {
  const names = disk.files('/shop/dist');
  const texts = names.map((name) => new TextDecoder().decode(disk.read(`/shop/dist/${name}`)));
  return JSON.stringify(names.map((name, index) => [name, texts[index]]));
};
const besides = (disk: FakeDisk) => disk.names('/shop').filter((name) => name !== 'dist');

/** What the folder holds before and after a run without a fault: all a failed run may leave. */
const before = siteOf(fakeDisk(OLD));
const after = (() => {
  const disk = fakeDisk(OLD);
  swapIn(disk, '/shop/dist', NEW, 'x');
  return siteOf(disk);
})();

/** Changes of a whole run, counted on a disk that doesn't fail: 3 writes, 2 renames, removals. */
const changes = (() => {
  const disk = fakeDisk(OLD);
  swapIn(disk, '/shop/dist', NEW, 'x');
  return disk.changes();
})();

describe('swapping in', () => {
  it('replaces the site whole and leaves nothing beside it', () => {
    const disk = fakeDisk(OLD);
    swapIn(disk, '/shop/dist', NEW, 'x');
    expect(disk.files('/shop/dist')).toEqual([
      'packages/a.zip',
      'site/index.html',
      'site/plans/a/index.html',
    ]);
    expect(besides(disk)).toEqual([]);
    expect(changes).toBeGreaterThanOrEqual(6);
  });

  it('writes the first site', () => {
    const disk = fakeDisk({ '/shop/content/shop.yaml': '' });
    swapIn(disk, '/shop/dist', NEW, 'x');
    expect(siteOf(disk)).toBe(after);
  });

  it.each(Array.from({ length: changes }, (_, index) => index + 1))(
    'a refusal at change %i leaves the last site or the new one, whole and in its place',
    (n) => {
      const disk = fakeDisk(OLD);
      disk.failAt(n, 'refuse');
      let failed = false;
      try {
        swapIn(disk, '/shop/dist', NEW, 'x');
      } catch {
        failed = true;
      }
      // Where the run reports a fault the old site stands; the last change only clears up, and the new site stands.
      expect(siteOf(disk)).toBe(failed ? before : after);
      expect(failed).toBe(n < changes);
    },
  );

  it.each(Array.from({ length: changes }, (_, index) => index + 1))(
    'a run killed at change %i leaves a whole site, which the next run finds',
    (n) => {
      const disk = fakeDisk(OLD);
      disk.failAt(n, 'break off');
      try {
        swapIn(disk, '/shop/dist', NEW, 'x');
      } catch {
        // Killed: what matters is what is left.
      }
      disk.mend();
      recover(disk, '/shop/dist');
      expect([before, after]).toContain(siteOf(disk));
      expect(besides(disk)).toEqual([]);
      swapIn(disk, '/shop/dist', NEW, 'y');
      expect(siteOf(disk)).toBe(after);
      expect(besides(disk)).toEqual([]);
    },
  );

  it('never swaps in a folder that another run has cleared meanwhile', () => {
    const disk = fakeDisk(OLD);
    const write = disk.write;
    let writes = 0;
    const disturbed = {
      ...disk,
      write: (file: string, content: Uint8Array | string) => {
        write(file, content);
        writes += 1;
        if (writes === 2) recover(disk, '/shop/dist');
      },
    };
    expect(() => swapIn(disturbed, '/shop/dist', NEW, 'x')).toThrow('another run');
    expect(siteOf(disk)).toBe(before);
  });
});

describe('the output folder', () => {
  it.each([
    ['the shop itself', '/shop', /holds the shop itself/],
    ['a folder above the shop', '/', /holds the shop itself/],
    ['a folder in content/', '/shop/content/plans', /lies in content/],
    ['a folder with a file of somebody', '/home', /holds "letters"/],
    ['a file', '/shop/notes.txt', /is a file/],
  ])('is refused: %s', (_, out, said) => {
    const disk = fakeDisk({
      '/shop/content/plans/a/plan.md': '',
      '/home/letters/a.txt': '',
      '/shop/notes.txt': '',
    });
    expect(outputProblem(disk, out, '/shop')).toMatch(said);
  });

  it('is taken where it is new, empty or written by an earlier run', () => {
    const disk = fakeDisk(OLD);
    expect(outputProblem(disk, '/shop/dist', '/shop')).toBeUndefined();
    expect(outputProblem(disk, '/elsewhere/site', '/shop')).toBeUndefined();
    expect(outputProblem(disk, '/shop-site', '/shop')).toBeUndefined();
  });
});
