/**
 * Results kept between runs, found again by the hash of what they were made from. An entry that is damaged, or that another
 * build of the program wrote, is as good as none: everything here may be deleted at any time.
 */
import { createHash } from 'node:crypto';
import type { Disk } from '../disk.ts';

/** A store of bytes. Never throws: a cache that can't be read or written only costs time. */
export interface Cache {
  readonly get: (key: string) => Uint8Array | undefined;
  readonly put: (key: string, content: Uint8Array) => void;
  /** Ends a run: drops what was used longest ago, until the rest is within bounds. */
  readonly trim: () => void;
}

/** The most that is kept, in bytes: some dozens of plans with their PDFs. */
const MOST_BYTES = 128 * 1024 * 1024;

/** Hash of several values, as hexadecimal: the key of a cached result. Each value ends with its length, so that none run together. */
export function keyOf(kind: string, ...values: readonly (string | Uint8Array)[]): string {
  const hash = createHash('sha256').update(kind);
  for (const value of values) hash.update(`\n${value.length}\n`).update(value);
  return `${kind}-${hash.digest('hex').slice(0, 40)}`;
}

/**
 * A value as text for a key: places in files left out, so that editing prose doesn't spoil a drawing; maps as lists; functions
 * left out. Not for reading back.
 */
export const keyText = (value: unknown): string =>
  JSON.stringify(value, (name, inner) => {
    if (name === 'origin' || name === 'position') return undefined;
    if (inner instanceof Map) return [...inner];
    if (inner instanceof Uint8Array) return createHash('sha256').update(inner).digest('hex');
    return inner;
  }) ?? '';

/** Keeps nothing. */
export const noCache: Cache = { get: () => undefined, put: () => {}, trim: () => {} };

/** Keeps results in memory, for preview; drops those used longest ago. */
export function memoryCache(most = MOST_BYTES): Cache {
  const entries = new Map<string, Uint8Array>();
  return {
    get: (key) => {
      const content = entries.get(key);
      if (content !== undefined) {
        entries.delete(key);
        entries.set(key, content);
      }
      return content;
    },
    put: (key, content) => {
      entries.set(key, content);
    },
    trim: () => {
      let total = [...entries.values()].reduce((sum, content) => sum + content.length, 0);
      for (const [key, content] of entries) {
        if (total <= most) break;
        entries.delete(key);
        total -= content.length;
      }
    },
  };
}

interface IndexEntry {
  readonly key: string;
  readonly size: number;
}

const digest = (content: Uint8Array): Uint8Array => createHash('sha256').update(content).digest();

/**
 * Keeps results in a folder. Each file is 32 bytes of hash over the rest, so that a damaged one is known; `index.json` lists
 * the entries, those used last at the end. `stamp` names the build of the program.
 */
export function diskCache(disk: Disk, folder: string, stamp: string, most = MOST_BYTES): Cache {
  const fileOf = (key: string) => `${folder}/${keyOf(key.split('-')[0] ?? 'entry', stamp, key)}`;
  const used = new Map<string, number>();
  const quietly = <T>(operation: () => T): T | undefined => {
    try {
      return operation();
    } catch {
      return undefined;
    }
  };
  return {
    get: (key) => {
      const file = fileOf(key);
      if (!disk.exists(file)) return undefined;
      const stored = quietly(() => disk.read(file));
      if (stored === undefined || stored.length < 32) return undefined;
      const content = new Uint8Array(stored.buffer, stored.byteOffset + 32, stored.length - 32);
      if (Buffer.compare(digest(content), stored.subarray(0, 32)) !== 0) return undefined;
      used.delete(file);
      used.set(file, stored.length);
      return content;
    },
    put: (key, content) => {
      const file = fileOf(key);
      // Written beside and moved into place: a run that is killed leaves no half entry under a good name.
      quietly(() => {
        if (!disk.exists(`${folder}/.gitignore`)) disk.write(`${folder}/.gitignore`, '*\n');
        disk.write(`${file}.new`, Buffer.concat([digest(content), content]));
        disk.rename(`${file}.new`, file);
      });
      used.delete(file);
      used.set(file, content.length + 32);
    },
    trim: () => {
      quietly(() => {
        const earlier = quietly(() => readIndex(disk.read(`${folder}/index.json`))) ?? [];
        const now = [...used].map(([file, size]) => ({ key: file.slice(folder.length + 1), size }));
        const all = [...earlier.filter((entry) => !now.some((other) => other.key === entry.key)), ...now];
        let total = all.reduce((sum, entry) => sum + entry.size, 0);
        const kept = all.filter((entry, index) => {
          // What this run used stays, even if it is more than the bound: dropping it would make the next run slow for nothing.
          const drop = total > most && index < all.length - now.length;
          if (drop) total -= entry.size;
          return !drop;
        });
        const names = new Set(kept.map((entry) => entry.key));
        for (const name of disk.names(folder))
          if (name !== 'index.json' && !name.startsWith('.') && !names.has(name))
            disk.remove(`${folder}/${name}`);
        if (kept.length > 0) disk.write(`${folder}/index.json`, `${JSON.stringify(kept)}\n`);
      });
    },
  };
}

function readIndex(stored: Uint8Array): IndexEntry[] {
  const list: unknown = JSON.parse(new TextDecoder().decode(stored));
  if (!Array.isArray(list)) return [];
  return list.filter(
    (entry): entry is IndexEntry =>
      typeof entry === 'object' &&
      entry !== null &&
      typeof entry.key === 'string' &&
      typeof entry.size === 'number',
  );
}

/** A result kept as JSON. */
export function fromCache<T>(cache: Cache, key: string): T | undefined {
  const stored = cache.get(key);
  return stored === undefined ? undefined : (JSON.parse(new TextDecoder().decode(stored)) as T);
}

/** Keeps a result as JSON: plain data, without maps. */
export const toCache = (cache: Cache, key: string, value: unknown): void =>
  cache.put(key, new TextEncoder().encode(JSON.stringify(value)));

/**
 * A result that can be written as JSON, made once for the same inputs. `inputs` is all that it is made from, as text.
 * What the cache gives back is the same data, so that a run with it publishes the same bytes as one without.
 */
export async function remembered<T>(
  cache: Cache,
  kind: string,
  inputs: string,
  make: () => Promise<T>,
): Promise<T> {
  const key = keyOf(kind, inputs);
  const stored = fromCache<T>(cache, key);
  if (stored !== undefined) return stored;
  const made = await make();
  toCache(cache, key, made);
  return made;
}
