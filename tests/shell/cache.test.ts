import { describe, expect, it } from 'vitest';
import { diskCache, keyOf, keyText, memoryCache } from '../../src/shell/cache.ts';
import { fakeDisk } from '../support/fake-disk.ts';

const bytes = (length: number, value = 7) => new Uint8Array(length).fill(value);

describe('the cache on disk', () => {
  it('gives back what was put, in a later run too', () => {
    const disk = fakeDisk();
    const first = diskCache(disk, '/shop/.kerfleaf/cache', 'build 1');
    first.put('pdf-1', bytes(100));
    first.trim();
    const second = diskCache(disk, '/shop/.kerfleaf/cache', 'build 1');
    expect(second.get('pdf-1')).toEqual(bytes(100));
    expect(second.get('pdf-2')).toBeUndefined();
  });

  it('keeps the results of one build from another', () => {
    const disk = fakeDisk();
    diskCache(disk, '/c', 'build 1').put('pdf-1', bytes(100));
    expect(diskCache(disk, '/c', 'build 2').get('pdf-1')).toBeUndefined();
  });

  it.each([
    ['a changed byte', (content: Uint8Array) => content.with(40, 99)],
    ['a lost end', (content: Uint8Array) => content.slice(0, 60)],
    ['nothing', () => new Uint8Array()],
  ])('takes no damaged entry: %s', (_, damage) => {
    const disk = fakeDisk();
    const cache = diskCache(disk, '/c', 'b');
    cache.put('pdf-1', bytes(100));
    for (const [name, content] of disk.stored)
      if (name.includes('/pdf-')) disk.stored.set(name, damage(content));
    expect(cache.get('pdf-1')).toBeUndefined();
    cache.put('pdf-1', bytes(100));
    expect(cache.get('pdf-1')).toEqual(bytes(100));
  });

  it('drops what was used longest ago, and strangers, when it is full', () => {
    const disk = fakeDisk();
    const run = (work: (cache: ReturnType<typeof diskCache>) => void) => {
      const cache = diskCache(disk, '/c', 'b', 1000);
      work(cache);
      cache.trim();
    };
    run((cache) => cache.put('a-1', bytes(400)));
    run((cache) => cache.put('b-1', bytes(400)));
    disk.write('/c/stranger', 'x');
    run((cache) => cache.get('a-1'));
    run((cache) => cache.put('c-1', bytes(400)));
    const cache = diskCache(disk, '/c', 'b', 1000);
    expect(cache.get('b-1')).toBeUndefined();
    expect(cache.get('a-1')).toEqual(bytes(400));
    expect(cache.get('c-1')).toEqual(bytes(400));
    expect(disk.exists('/c/stranger')).toBe(false);
  });

  it('lives with a damaged list of entries', () => {
    const disk = fakeDisk({ '/c/index.json': '{"half' });
    const cache = diskCache(disk, '/c', 'b');
    cache.put('a-1', bytes(10));
    cache.trim();
    expect(diskCache(disk, '/c', 'b').get('a-1')).toEqual(bytes(10));
    expect(JSON.parse(new TextDecoder().decode(disk.read('/c/index.json')))).toHaveLength(1);
  });

  it('never fails a run, whatever the disk does', () => {
    const disk = fakeDisk();
    disk.failAt(1, 'break off');
    const cache = diskCache(disk, '/c', 'b');
    expect(() => {
      cache.put('a-1', bytes(10));
      cache.get('a-1');
      cache.trim();
    }).not.toThrow();
  });
});

describe('the cache in memory', () => {
  it('drops what was used longest ago', () => {
    const cache = memoryCache(1000);
    cache.put('a', bytes(400));
    cache.put('b', bytes(400));
    cache.get('a');
    cache.put('c', bytes(400));
    cache.trim();
    expect([cache.get('a'), cache.get('b'), cache.get('c')].map((entry) => entry?.length)).toEqual([
      400,
      undefined,
      400,
    ]);
  });
});

describe('keys', () => {
  it('tell values apart that would read the same run together', () => {
    expect(keyOf('k', 'ab', 'c')).not.toBe(keyOf('k', 'a', 'bc'));
    expect(keyOf('k', 'ab', 'c')).toBe(keyOf('k', 'ab', 'c'));
  });

  it('leave out places and keep maps', () => {
    const one = keyText({ width: 3, origin: { line: 1 }, steps: new Map([[1, 'a']]) });
    expect(one).toBe(keyText({ width: 3, origin: { line: 9 }, steps: new Map([[1, 'a']]) }));
    expect(one).not.toBe(keyText({ width: 3, origin: { line: 1 }, steps: new Map([[1, 'b']]) }));
  });
});
