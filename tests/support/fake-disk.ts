/** A disk in memory, which can be told to refuse, or to break off, at its n-th change. */
import type { Disk } from '../../src/disk.ts';

export interface FakeDisk extends Disk {
  readonly stored: Map<string, Uint8Array>;
  /** Changes made so far: writes, renames and removals. */
  readonly changes: () => number;
  /**
   * refuse: only the n-th change from now fails, as on a full disk. break off: it and all after it fail, as when the program is
   * killed or the power goes.
   */
  readonly failAt: (change: number, how: 'refuse' | 'break off') => void;
  readonly mend: () => void;
}

const byCode = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export function fakeDisk(files: Readonly<Record<string, string>> = {}): FakeDisk {
  const stored = new Map<string, Uint8Array>();
  for (const [name, content] of Object.entries(files)) stored.set(name, new TextEncoder().encode(content));
  let made = 0;
  let failing: { at: number; how: 'refuse' | 'break off' } | undefined;
  const under = (folder: string) => [...stored.keys()].filter((name) => name.startsWith(`${folder}/`));
  const change = () => {
    made += 1;
    if (failing && (failing.how === 'refuse' ? made === failing.at : made >= failing.at))
      throw new Error('the fake disk fails');
  };
  const isFolder = (file: string) => !stored.has(file) && under(file).length > 0;
  return {
    stored,
    changes: () => made,
    failAt: (n, how) => {
      failing = { at: made + n, how };
    },
    mend: () => {
      failing = undefined;
    },
    exists: (file) => stored.has(file) || isFolder(file),
    isFolder,
    names: (folder) =>
      [...new Set(under(folder).map((name) => name.slice(folder.length + 1).split('/')[0] as string))].sort(
        byCode,
      ),
    files: (folder) =>
      under(folder)
        .map((name) => name.slice(folder.length + 1))
        .sort(byCode),
    read: (file) => {
      const content = stored.get(file);
      if (content === undefined) throw new Error(`no ${file}`);
      return content;
    },
    write: (file, content) => {
      change();
      stored.set(file, typeof content === 'string' ? new TextEncoder().encode(content) : content);
    },
    rename: (from, to) => {
      change();
      if (under(to).length > 0) throw new Error(`${to} is there already`);
      const names = stored.has(from) ? [from] : under(from);
      if (names.length === 0) throw new Error(`no ${from}`);
      for (const name of names) {
        stored.set(to + name.slice(from.length), stored.get(name) as Uint8Array);
        stored.delete(name);
      }
    },
    remove: (file) => {
      change();
      stored.delete(file);
      for (const name of under(file)) stored.delete(name);
    },
    watch: () => () => {},
    now: () => 0,
    today: () => '2026-04-01',
  };
}
