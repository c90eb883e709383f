/** Reads a PDF in tests: its plain objects by pattern, and its text through poppler's pdftotext. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { FONT_FILES, loadTypst, type TypstCompiler } from '../../src/publish/pdf/typst.ts';
import { readTheme } from '../../src/publish/theme.ts';
import type { Theme } from '../../src/publish/types.ts';

const require = createRequire(import.meta.url);

/** The fonts of the sheets, read from their packages. */
export const sheetFonts = (): Uint8Array[] => FONT_FILES.map((file) => readFileSync(require.resolve(file)));

/** A compiler with the fonts of the sheets. */
export const typstForTests = (): Promise<TypstCompiler> => loadTypst(sheetFonts());

/** The default theme as it lies in the repository. */
export function handbookTheme(): Theme {
  const folder = fileURLToPath(new URL('../../themes/handbook/', import.meta.url));
  const files = new Map(
    readdirSync(folder).map((name): [string, string] => [name, readFileSync(join(folder, name), 'utf8')]),
  );
  // The stylesheet is no matter of the PDF's.
  if (!files.has('style.css')) files.set('style.css', '');
  const { value, diagnostics } = readTheme(files);
  if (value === undefined) throw new Error(`the default theme is faulty: ${JSON.stringify(diagnostics)}`);
  return value;
}

/** The bytes of a PDF as text, a character a byte. Objects are not packed; only streams are. */
export const bytesText = (pdf: Uint8Array): string => Buffer.from(pdf).toString('latin1');

/** Runs one of poppler's programs on a PDF and gives what it prints. */
export function poppler(
  program: 'pdftotext' | 'pdfinfo',
  pdf: Uint8Array,
  options: readonly string[],
): string {
  const folder = mkdtempSync(join(tmpdir(), 'kerfleaf-pdf-'));
  const file = join(folder, 'plan.pdf');
  try {
    writeFileSync(file, pdf);
    const last = program === 'pdftotext' ? ['-'] : [];
    // Poppler warns on standard error about attributes that it doesn’t know; what it prints is not touched by that.
    return execFileSync(program, [...options, file, ...last], {
      encoding: 'utf8',
      stdio: ['ignore', 'pipe', 'ignore'],
    });
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT')
      throw new Error(
        `this test reads PDFs with ${program}: install poppler (Debian: apt-get install poppler-utils)`,
      );
    throw error;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

/** Text of each page, in reading order. */
export const pageTexts = (pdf: Uint8Array): string[] =>
  poppler('pdftotext', pdf, ['-enc', 'UTF-8']).split('\f').slice(0, -1);

/** Text of the whole document in reading order, white space as single spaces. */
export const flowText = (pdf: Uint8Array): string =>
  poppler('pdftotext', pdf, ['-enc', 'UTF-8', '-raw']).replaceAll(/\s+/g, ' ');
