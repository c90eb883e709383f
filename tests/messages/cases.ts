/**
 * Faulty files with the report they must get. A case is one file as an author would write it, and at its end the report:
 *
 * - of a plan (`.md`) a comment, `<!-- expect read`, with the report's lines in it;
 * - of a YAML file the line `# expect read`, and the report as comments under it.
 *
 * The word after `expect` names the phases to run (`phases.ts`). A line of the report leaves the case's own file name out:
 * `12:5: error: expected …, found … [id]`, with its hint indented under it; other files are named. The end is cut off before the file is
 * read, so lines and columns are those of the file as it stands. A YAML case says which file it stands for by the beginning of its
 * name: `shop-`, `stock-`, `hardware-`. All other files of the shop are those in `base/`, which are right; a
 * plan's folder holds one picture, `stool.jpg`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { diagnosticText } from '../../src/diagnostics.ts';
import { PHASES } from './phases.ts';

const here = fileURLToPath(new URL('.', import.meta.url));
const EXPECT = /\n(?:<!--|#) expect ([a-z]+)\n([\s\S]*)$/u;

export interface Case {
  /** Path under `tests/messages`. */
  readonly name: string;
  readonly phase: string;
  readonly expected: string;
  /** Path the file stands at in the shop. */
  readonly file: string;
  readonly text: string;
}

/** The files of the shop that is right. */
function base(): Map<string, string> {
  const folder = `${here}base/`;
  const files = new Map<string, string>();
  for (const path of (readdirSync(folder, { recursive: true }) as string[]).sort())
    if (/\.(?:md|yaml)$/u.test(path))
      files.set(path.replaceAll('\\', '/'), readFileSync(folder + path, 'utf8'));
  return files;
}

/** All cases of the folder tree. */
export function cases(): Case[] {
  const paths = (readdirSync(here, { recursive: true }) as string[])
    .map((path) => path.replaceAll('\\', '/'))
    .filter((path) => /\.(?:md|yaml)$/u.test(path) && !path.startsWith('base/'))
    .sort();
  return paths.map((path) => {
    const whole = readFileSync(here + path, 'utf8');
    const match = EXPECT.exec(whole);
    if (!match) throw new Error(`${path} has no "expect" at its end`);
    const report = (match[2] as string)
      .replace(/\n?-->\s*$/u, '')
      .replace(/^# ?/gmu, '')
      .trimEnd();
    return {
      name: path,
      phase: match[1] as string,
      expected: report,
      file: standsAt(path),
      text: whole.slice(0, match.index + 1),
    };
  });
}

function standsAt(path: string): string {
  const name = path.slice(path.lastIndexOf('/') + 1);
  if (name.endsWith('.md')) return `content/plans/${name.slice(0, -3)}/plan.md`;
  if (name.startsWith('shop-')) return 'content/shop.yaml';
  if (name.startsWith('stock-')) return 'content/stock/inch.yaml';
  return 'content/hardware/fasteners.yaml';
}

/** The report a case gets, as the end of its file would say it. */
export async function reportOf(one: Case): Promise<string> {
  const phase = PHASES[one.phase];
  if (phase === undefined)
    throw new Error(`${one.name} asks for the phase "${one.phase}", which phases.ts doesn't have`);
  const files = base();
  if (one.file.endsWith('plan.md')) {
    files.delete('content/plans/stool/plan.md');
    files.set(one.file.replace('plan.md', 'stool.jpg'), '');
    const slug = one.file.split('/')[2] as string;
    const shop = files.get('content/shop.yaml') as string;
    files.set('content/shop.yaml', shop.replace('  stool: ', `  ${slug}: `));
  }
  files.set(one.file, one.text);
  const said = await phase(files);
  return said
    .map(diagnosticText)
    .join('\n')
    .split('\n')
    .map((line) => (line.startsWith(`${one.file}:`) ? line.slice(one.file.length + 1) : line))
    .join('\n');
}
