/**
 * Every read and write of the program, and its clock: the one file that touches the disk. Tests pass a fake.
 * Paths are absolute, or relative to the current folder; those handed back use forward slashes.
 */
import * as fs from 'node:fs';
import { createRequire } from 'node:module';
import * as path from 'node:path';
import { fileURLToPath } from 'node:url';

/** What the program needs of a disk. Methods throw `DiskFault` where the disk refuses. */
export interface Disk {
  readonly exists: (file: string) => boolean;
  readonly isFolder: (file: string) => boolean;
  /** Names in a folder, sorted; nothing where there is no such folder. */
  readonly names: (folder: string) => string[];
  /** All files under a folder as paths relative to it, sorted, names that start with a dot left out. */
  readonly files: (folder: string) => string[];
  readonly read: (file: string) => Uint8Array;
  /** Writes a file whole and makes the folders above it. */
  readonly write: (file: string, content: Uint8Array | string) => void;
  /** Moves a file or folder; the target must not be a folder with something in it. */
  readonly rename: (from: string, to: string) => void;
  /** Removes a file or a folder with all that is in it; no fault where there is none. */
  readonly remove: (file: string) => void;
  /** Calls back on any change under a folder, until the function it returns is called. */
  readonly watch: (folder: string, changed: () => void) => () => void;
  /** Milliseconds from some fixed moment: for progress and benchmarks, never for what is written. */
  readonly now: () => number;
  /** Today as ISO 8601 date, for the first revision of a new draft; never for what is published. */
  readonly today: () => string;
}

/** The disk refused: said to the user as it is, without a stack. */
export class DiskFault extends Error {
  override readonly name = 'DiskFault';
}

/** More files than this in a shop is a wrong folder, not a shop. */
const MOST_FILES = 20_000;
/** Deeper than this is a loop. */
const DEEPEST = 12;

const codeOf = (error: unknown): string =>
  error instanceof Error && 'code' in error ? String(error.code) : '';

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'no permission',
  EPERM: 'no permission',
  EROFS: 'the disk is read-only',
  ENOSPC: 'the disk is full',
  ENOENT: 'there is no such file or folder',
  ENOTDIR: 'a file stands where a folder is needed',
  EISDIR: 'a folder stands where a file is needed',
};

/** Runs one disk operation and turns what the system throws into a sentence. */
function attempt<T>(doing: string, file: string, operation: () => T): T {
  try {
    return operation();
  } catch (error) {
    const code = codeOf(error);
    throw new DiskFault(`can't ${doing} ${file}: ${REASONS[code] ?? (code || String(error))}`, {
      cause: error,
    });
  }
}

const byCode = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/** All files under a folder. Symbolic links to files count, links to folders don't: they could lead round in a ring. */
function filesUnder(folder: string): string[] {
  const found: string[] = [];
  const visit = (relative: string, depth: number): void => {
    if (depth > DEEPEST || found.length > MOST_FILES) return;
    for (const entry of fs.readdirSync(path.join(folder, relative), { withFileTypes: true })) {
      if (entry.name.startsWith('.')) continue;
      const name = relative === '' ? entry.name : `${relative}/${entry.name}`;
      if (entry.isDirectory()) visit(name, depth + 1);
      else if (entry.isFile() || (entry.isSymbolicLink() && isFile(path.join(folder, name))))
        found.push(name);
    }
  };
  visit('', 0);
  if (found.length > MOST_FILES)
    throw new DiskFault(`${folder} holds more than ${MOST_FILES} files; is it the right folder?`);
  return found.sort(byCode);
}

const isFile = (file: string): boolean => fs.statSync(file, { throwIfNoEntry: false })?.isFile() === true;

/** The folders to watch one by one, for systems and Node versions that can't watch a tree. */
function foldersUnder(folder: string): string[] {
  const found = [folder];
  for (const name of filesUnder(folder)) {
    const parts = name.split('/').slice(0, -1);
    for (let depth = 1; depth <= parts.length; depth += 1) {
      const inner = path.join(folder, ...parts.slice(0, depth));
      if (!found.includes(inner)) found.push(inner);
    }
  }
  return found;
}

/** Watches a tree; new folders are found again after each change. */
function watchTree(folder: string, changed: () => void): () => void {
  const watchers = new Map<string, fs.FSWatcher>();
  let closed = false;
  const refresh = (): void => {
    if (closed || !fs.existsSync(folder)) return;
    const wanted = new Set(foldersUnder(folder));
    for (const [inner, watcher] of watchers)
      if (!wanted.has(inner)) {
        watcher.close();
        watchers.delete(inner);
      }
    for (const inner of wanted) {
      if (watchers.has(inner)) continue;
      try {
        const watcher = fs.watch(inner, () => {
          refresh();
          changed();
        });
        // A folder that is removed ends its watcher with an error; the next refresh drops it.
        watcher.on('error', () => watchers.delete(inner));
        watchers.set(inner, watcher);
      } catch {
        // Gone between listing and watching: the change that removed it is reported by its parent.
      }
    }
  };
  refresh();
  return () => {
    closed = true;
    for (const watcher of watchers.values()) watcher.close();
    watchers.clear();
  };
}

/** The real disk. */
export function realDisk(): Disk {
  return {
    exists: (file) => fs.existsSync(file),
    isFolder: (file) => fs.statSync(file, { throwIfNoEntry: false })?.isDirectory() === true,
    names: (folder) =>
      fs.existsSync(folder) ? attempt('list', folder, () => fs.readdirSync(folder)).sort(byCode) : [],
    files: (folder) => (fs.existsSync(folder) ? attempt('list', folder, () => filesUnder(folder)) : []),
    read: (file) => attempt('read', file, () => fs.readFileSync(file)),
    write: (file, content) =>
      attempt('write', file, () => {
        fs.mkdirSync(path.dirname(file), { recursive: true });
        fs.writeFileSync(file, content);
      }),
    rename: (from, to) => attempt('move', from, () => fs.renameSync(from, to)),
    remove: (file) => attempt('remove', file, () => fs.rmSync(file, { recursive: true, force: true })),
    watch: watchTree,
    now: () => performance.now(),
    today: () => new Date().toISOString().slice(0, 10),
  };
}

/**
 * The program's own folder, which holds the built-in `themes/` and the stock lists for a new shop. This file lies one folder
 * below it both as source (`src/`) and built (`build/`).
 */
export const programFolder = (): string => fileURLToPath(new URL('..', import.meta.url));

const requireHere = createRequire(import.meta.url);

/** The path of a file in an npm package, such as a font: `packageFile('@fontsource/besley/files/x.woff2')`. */
export const packageFile = (name: string): string => attempt('find', name, () => requireHere.resolve(name));
