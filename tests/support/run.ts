/** Runs the command in this process, on the real disk, and keeps what it says. */
import { cpSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';
import type { Disk } from '../../src/disk.ts';
import { run } from '../../src/main.ts';

export interface Ran {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs `kerfleaf` with some arguments. */
export async function kerfleaf(words: readonly string[], disk?: Disk): Promise<Ran> {
  let out = '';
  let err = '';
  const terminal = {
    out: (text: string) => {
      out += text;
    },
    err: (text: string) => {
      err += text;
    },
    live: false,
    columns: 80,
    interrupted: new Promise<void>(() => {}),
  };
  const code = await (disk === undefined ? run(words, terminal) : run(words, terminal, disk));
  return { code, out, err };
}

const made: string[] = [];
afterAll(() => {
  for (const folder of made) rmSync(folder, { recursive: true, force: true });
});

/** An empty folder that goes when the test file ends. */
export function temporaryFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'kerfleaf-'));
  made.push(folder);
  return folder;
}

/** A copy of the demo shop's content in a folder of its own. */
export function demoShop(): string {
  const folder = temporaryFolder();
  mkdirSync(join(folder, 'content'));
  cpSync(fileURLToPath(new URL('../../content', import.meta.url)), join(folder, 'content'), {
    recursive: true,
  });
  return folder;
}
