/**
 * The Typst compiler as a library: a main file and the files it reads go in, a PDF/UA-1 document comes out. Everything is kept
 * in memory; nothing is read from or written to the disk.
 */
import type { NodeCompiler } from '@myriaddreamin/typst-ts-node-compiler';
import { fontName, type Glyph, glyphsOf } from './pdf-letters.ts';

/** The fonts of the sheets, as module paths: whoever loads the compiler reads these files. The fifth draws the fractions. */
export const FONT_FILES: readonly string[] = [
  '@expo-google-fonts/besley/400Regular/Besley_400Regular.ttf',
  '@expo-google-fonts/besley/400Regular_Italic/Besley_400Regular_Italic.ttf',
  '@expo-google-fonts/besley/600SemiBold/Besley_600SemiBold.ttf',
  '@expo-google-fonts/source-sans-3/400Regular/SourceSans3_400Regular.ttf',
  '@expo-google-fonts/source-sans-3/500Medium/SourceSans3_500Medium.ttf',
  '@expo-google-fonts/source-sans-3/600SemiBold/SourceSans3_600SemiBold.ttf',
];

/** What came of a document: the PDF, or what kept it from being made. Warnings leave the PDF and are among the problems. */
export interface TypstResult {
  readonly pdf?: Uint8Array;
  /** One sentence each. */
  readonly problems: readonly string[];
}

export interface TypstCompiler {
  /** Figures 0 to 9, the slash and the space in the weight of fractions. */
  readonly figures: Readonly<Record<string, Glyph>>;
  /** Compiles the file named `main` of `files`; paths in them are relative to one folder that exists only here. */
  compile(main: string, files: ReadonlyMap<string, Uint8Array | string>): TypstResult;
}

/** A folder that need not exist: all files lie over it in memory. */
const FOLDER = '/sheets';

/** Results that no document asked for in this many compilations are let go, so that memory stays level over many plans. */
const KEPT = 8;

/** Loads the library, without a compiler. */
export const readyTypst = (): Promise<unknown> => import('@myriaddreamin/typst-ts-node-compiler');

/** Makes the compiler; one serves all documents of a run. `fonts` are the bytes of `FONT_FILES`, in that order. */
export async function loadTypst(fonts: readonly Uint8Array[]): Promise<TypstCompiler> {
  const library = await import('@myriaddreamin/typst-ts-node-compiler');
  const compiler = library.NodeCompiler.create({
    workspace: FOLDER,
    fontArgs: [{ fontBlobs: fonts.map((font) => Buffer.from(font)) }],
  });
  const medium = fonts[4];
  if (medium === undefined) throw new Error(`expected ${FONT_FILES.length} fonts, found ${fonts.length}`);
  const names = new Set(fonts.map(fontName));
  return {
    figures: glyphsOf(medium, '0123456789/ '),
    compile: (main, files) => compile(compiler, names, main, files),
  };
}

function compile(
  compiler: NodeCompiler,
  fontNames: ReadonlySet<string>,
  main: string,
  files: ReadonlyMap<string, Uint8Array | string>,
): TypstResult {
  compiler.resetShadow();
  for (const [path, content] of files) compiler.mapShadow(`${FOLDER}/${path}`, Buffer.from(content));
  try {
    const result = compiler.compile({ mainFilePath: `${FOLDER}/${main}` });
    const found = result.takeDiagnostics();
    const problems = found === null ? [] : compiler.fetchDiagnostics(found).map(problemText);
    if (result.result === null) return { problems };
    const pdf = new Uint8Array(compiler.pdf(result.result, { pdfStandard: 'ua-1' }));
    const foreign = embeddedFonts(pdf).filter((name) => !fontNames.has(name));
    if (foreign.length === 0) return { pdf, problems };
    return {
      problems: [
        ...problems,
        `a drawing holds a character that the sheets' fonts lack, and ${foreign.join(', ')} was taken from this machine`,
      ],
    };
  } catch (error) {
    // The exporter refuses what PDF/UA-1 forbids by throwing a list in Rust's debug form.
    return { problems: thrownProblems(error instanceof Error ? error.message : String(error)) };
  } finally {
    compiler.evictCache(KEPT);
  }
}

/** A problem of the compiler's as one sentence with its place. */
function problemText(problem: unknown): string {
  const { message, path, range } = problem as {
    message?: string;
    path?: string;
    range?: { start?: { line?: number; character?: number } };
  };
  const start = range?.start;
  const place =
    path === undefined || start === undefined
      ? ''
      : `${path.replace(`${FOLDER}/`, '')}:${(start.line ?? 0) + 1}:${(start.character ?? 0) + 1}: `;
  return `${place}${message ?? JSON.stringify(problem)}`;
}

/** The messages in `[SourceDiagnostic { …, message: "…", … }]`, each once. */
function thrownProblems(text: string): string[] {
  const found = [...text.matchAll(/message: "((?:[^"\\]|\\.)*)"/g)].map((match) =>
    (match[1] as string).replaceAll('\\"', '"').replaceAll('\\\\', '\\'),
  );
  return found.length === 0 ? [text] : [...new Set(found)];
}

/** PostScript names of the fonts in a PDF, without the six letters and plus sign of a subset; sorted. */
export function embeddedFonts(pdf: Uint8Array): string[] {
  const text = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).toString('latin1');
  const names = [...text.matchAll(/\/FontName\s*\/(?:[A-Z]{6}\+)?([^\s/<>[\]()]+)/g)].map(
    (match) => match[1] as string,
  );
  return [...new Set(names)].sort();
}
