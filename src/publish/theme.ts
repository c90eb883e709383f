/**
 * A theme: colours, type and logo in `theme.json`, read by page and PDF alike; the page's stylesheet; the PDF's template.
 * Changing a shop's look needs no code.
 */
import { type Diagnostic, fault, type Outcome } from '../diagnostics.ts';
import { inkRules } from './pictures/inks.ts';
import type { Theme, ThemeTokens } from './types.ts';

/** Colours that pages and drawings name; a theme gives each of them for light and for dark. */
export const COLOURS: readonly string[] = [
  'paper wash ink ink-2 rule edge chalk chalk-2 chalk-wash on-chalk line stand plate part part-end',
  'wood-1 wood-2 wood-3 wood-end grain board new-1 new-2 new-3 new-end',
].flatMap((names) => names.split(' '));

/** Weights a page sets; the italic is loaded only where a page uses it. */
const FACES = [
  ['serif', 400, 'normal'],
  ['serif', 600, 'normal'],
  ['serif', 400, 'italic'],
  ['sans', 400, 'normal'],
  ['sans', 500, 'normal'],
  ['sans', 600, 'normal'],
] as const;

/** One font file of a theme: where it comes from, and what it is called on the site. */
export interface PageFont {
  /** In an npm package: `@fontsource/besley/files/besley-latin-400-normal.woff2`. */
  readonly module: string;
  readonly file: string;
  readonly family: string;
  readonly weight: number;
  readonly style: 'normal' | 'italic';
}

/** The font files a theme's pages use. `build` reads each through its package and hands them to `siteFiles`. */
export function pageFonts(theme: Theme): PageFont[] {
  return FACES.map(([kind, weight, style]) => {
    const family = theme.tokens[kind];
    const name = family.toLowerCase().replaceAll(/[^a-z0-9]+/g, '-');
    const file = `${name}-latin-${weight}-${style}.woff2`;
    return { module: `@fontsource/${name}/files/${file}`, file, family, weight, style };
  });
}

const textOf = (content: Uint8Array | string): string =>
  typeof content === 'string' ? content : new TextDecoder().decode(content);

/**
 * Reads a theme from its files, by name (`theme.json`, `style.css`, `plan.typ`, a logo) or by a path that ends so.
 * A fault stands at the file's first character, except in JSON that doesn't parse, whose place is found.
 */
export function readTheme(files: ReadonlyMap<string, Uint8Array | string>): Outcome<Theme | undefined> {
  const diagnostics: Diagnostic[] = [];
  const find = (name: string): [string, string] | undefined => {
    const path = [...files.keys()].sort().find((key) => key === name || key.endsWith(`/${name}`));
    return path === undefined ? undefined : [path, textOf(files.get(path) as Uint8Array | string)];
  };
  const fail = (file: string, expected: string, found: string, hint?: string): void => {
    diagnostics.push(
      fault(
        'theme.form',
        { file, line: 1, column: 1 },
        { expected, found, ...(hint === undefined ? {} : { hint }) },
      ),
    );
  };
  const json = find('theme.json');
  if (json === undefined) {
    fail('theme.json', 'a theme with a file theme.json', 'no such file');
    return { value: undefined, diagnostics };
  }
  const [file, source] = json;
  let data: Readonly<Record<string, unknown>>;
  try {
    const parsed: unknown = JSON.parse(source);
    data = typeof parsed === 'object' && parsed !== null ? (parsed as Record<string, unknown>) : {};
  } catch (error) {
    fail(file, 'JSON', error instanceof Error ? error.message : 'text that is none');
    return { value: undefined, diagnostics };
  }
  const scheme = (name: 'light' | 'dark'): Record<string, string> => {
    const given = data[name];
    const colours: Record<string, string> = {};
    if (typeof given !== 'object' || given === null) {
      fail(file, `colours under "${name}"`, given === undefined ? 'none' : 'something else');
      return colours;
    }
    for (const token of COLOURS) {
      const colour: unknown = (given as Record<string, unknown>)[token];
      // Hexadecimal only: page, raster and PDF all read it, and nothing else can get into a stylesheet.
      if (typeof colour === 'string' && /^#[0-9a-f]{6}$/i.test(colour)) colours[token] = colour.toLowerCase();
      else
        fail(
          file,
          `a colour such as #1f1c19 for "${token}" under "${name}"`,
          colour === undefined ? 'none' : `"${String(colour)}"`,
        );
    }
    return colours;
  };
  const family = (name: 'serif' | 'sans'): string => {
    const given = data[name];
    if (typeof given === 'string' && /^[A-Za-z0-9][A-Za-z0-9 -]{0,60}$/.test(given)) return given;
    fail(
      file,
      `the name of a font family for "${name}"`,
      given === undefined ? 'none' : `"${String(given)}"`,
    );
    return '';
  };
  const light = scheme('light');
  const dark = scheme('dark');
  const tokens: ThemeTokens = { light, dark, serif: family('serif'), sans: family('sans') };
  const style = find('style.css');
  if (style === undefined) fail(file, 'a file style.css beside it', 'no such file');
  const logoFile = data.logo;
  const logo = typeof logoFile === 'string' ? find(logoFile) : undefined;
  if (typeof logoFile === 'string' && logo === undefined)
    fail(file, 'the logo beside it', `no file ${logoFile}`, 'write "logo": null to set the name in type');
  if (diagnostics.length > 0) return { value: undefined, diagnostics };
  const name = data.name;
  return {
    value: {
      name: typeof name === 'string' ? name : 'theme',
      tokens: logo === undefined ? tokens : { ...tokens, logo: logo[1] },
      stylesheet: style?.[1] ?? '',
      pdfTemplate: find('plan.typ')?.[1] ?? '',
      pdfParts: Object.fromEntries(
        [...files.keys()]
          .map((path) => path.slice(path.lastIndexOf('/') + 1))
          .filter((part) => part.endsWith('.typ') && part !== 'plan.typ')
          .sort()
          .map((part): [string, string] => [part, find(part)?.[1] ?? '']),
      ),
    },
    diagnostics,
  };
}

const declarations = (colours: ThemeTokens['light']): string =>
  COLOURS.map((token) => `--${token}:${colours[token]}`).join(';');

/** Comments and white space a browser doesn't need, taken out; strings in our sheets hold neither. */
const squeeze = (css: string): string =>
  css
    .replaceAll(/\/\*[\s\S]*?\*\//g, '')
    .replaceAll(/\s+/g, ' ')
    .replaceAll(/ ?([{};,>]) ?/g, '$1')
    .replaceAll(';}', '}')
    .trim();

/**
 * The site's one stylesheet: fonts, the theme's colours, the inks of drawings, the theme's own rules.
 * `fonts` are those that the site ships; a theme without them falls back to the families of the system.
 */
export function siteStyles(theme: Theme, fonts: readonly PageFont[], editions: number): string {
  const { light, dark, serif, sans } = theme.tokens;
  // `optional` with a preload: the page never moves when a font comes late.
  const faces = fonts.map(
    (font) =>
      `@font-face{font-family:"${font.family}";font-weight:${font.weight};font-style:${font.style};src:url("${font.file}") format("woff2");font-display:optional}`,
  );
  const families = `--serif:"${serif}",Georgia,"Times New Roman",serif;--sans:"${sans}","Segoe UI",Arial,sans-serif`;
  // Hides what belongs to the editions that are not chosen. Where a browser lacks :has, all are shown.
  const chosen = Array.from(
    { length: editions },
    (_, i) => `body:has(#edition-${i + 1}:checked) .ed:not([data-ed="${i + 1}"]){display:none}`,
  );
  return squeeze(
    [
      ...faces,
      `:root{color-scheme:light dark;${families};${declarations(light)}}`,
      `@media screen and (prefers-color-scheme:dark){:root{${declarations(dark)}}}`,
      inkRules(),
      theme.stylesheet,
      ...chosen,
    ].join('\n'),
  );
}
