/** A shop's folder as the phases want it: its texts, and its theme. */
import { type Diagnostic, fault, type Origin, type Outcome } from '../diagnostics.ts';
import type { Disk } from '../disk.ts';
import { readTheme } from '../publish/theme.ts';
import type { Theme } from '../publish/types.ts';

const SHOP_FILE = 'content/shop.yaml';

/** Texts that may hold what an author writes; other files are only looked for by name. */
const TEXT_FILE = /\.(?:md|ya?ml)$/;
/** A longer text is no plan; the bound keeps a wrong file from holding up a run. */
const LONGEST_TEXT = 2_000_000;

/** All files of `content/` by path: texts as text, others empty. */
export function readContent(
  disk: Disk,
  shop: string,
): { files: Map<string, string>; diagnostics: Diagnostic[] } {
  const files = new Map<string, string>();
  const diagnostics: Diagnostic[] = [];
  for (const name of disk.files(`${shop}/content`)) {
    const file = `content/${name}`;
    if (!TEXT_FILE.test(name)) {
      files.set(file, '');
      continue;
    }
    const bytes = disk.read(`${shop}/${file}`);
    const origin = { file, line: 1, column: 1 };
    if (bytes.length > LONGEST_TEXT) {
      diagnostics.push(
        fault('file.size', origin, {
          expected: 'a file of at most 2 MB',
          found: `${(bytes.length / 1e6).toFixed(1)} MB`,
        }),
      );
      continue;
    }
    try {
      files.set(file, new TextDecoder('utf-8', { fatal: true }).decode(bytes));
    } catch {
      diagnostics.push(
        fault('file.encoding', origin, {
          expected: 'text in UTF-8',
          found: 'bytes that are none',
          hint: 'save the file as UTF-8',
        }),
      );
    }
  }
  return { files, diagnostics };
}

/** A theme by name: the shop's own `themes/<name>/`, or the one of that name in the program's folder. */
export function themeNamed(
  name: string,
  disk: Disk,
  shop: string,
  program: string,
): Outcome<Theme | undefined> {
  const own = `themes/${name}`;
  const known = (root: string) =>
    disk.names(`${root}/themes`).filter((entry) => disk.isFolder(`${root}/themes/${entry}`));
  const root = known(shop).includes(name) ? shop : known(program).includes(name) ? program : undefined;
  if (root === undefined) {
    const names = [...new Set([...known(shop), ...known(program)])].sort();
    return {
      value: undefined,
      diagnostics: [
        fault('theme.unknown', placeOfTheme(disk, shop), {
          expected: `the name of a theme: ${names.join(', ')}`,
          found: `"${name}"`,
          hint: `theme: ${names[0] ?? 'handbook'}`,
        }),
      ],
    };
  }
  const files = new Map(
    disk.files(`${root}/${own}`).map((file) => [`${own}/${file}`, disk.read(`${root}/${own}/${file}`)]),
  );
  return readTheme(files);
}

/** Where the shop file names its theme. */
function placeOfTheme(disk: Disk, shop: string): Origin {
  const lines = new TextDecoder().decode(disk.read(`${shop}/${SHOP_FILE}`)).split('\n');
  const line = lines.findIndex((text) => text.startsWith('theme:'));
  const column = (lines[line]?.search(/(?<=^theme:\s*)[^\s]/) ?? 0) + 1;
  return { file: SHOP_FILE, line: Math.max(1, line + 1), column: Math.max(1, column) };
}
