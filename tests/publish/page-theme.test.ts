/** The theme: read, checked, written as a stylesheet. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { COLOURS, pageFonts, readTheme, siteStyles } from '../../src/publish/theme.ts';
import { handbook } from '../support/bundle.ts';

const folder = new URL('../../themes/handbook/', import.meta.url);
const json = readFileSync(new URL('theme.json', folder), 'utf8');
const files = (theme: string) =>
  new Map([
    ['themes/x/theme.json', theme],
    ['themes/x/style.css', 'p { margin: 0 }'],
  ]);

/** Relative luminance and contrast: WCAG 2.2, definitions of both terms. */
function contrast(a: string, b: string): number {
  const light = (colour: string) =>
    [1, 3, 5]
      .map((at) => Number.parseInt(colour.slice(at, at + 2), 16) / 255)
      .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4))
      .reduce((sum, part, at) => sum + part * ([0.2126, 0.7152, 0.0722][at] as number), 0);
  const [high, low] = [light(a), light(b)].sort((x, y) => y - x) as [number, number];
  return (high + 0.05) / (low + 0.05);
}

describe('the handbook theme', () => {
  const { light, dark } = handbook().tokens;

  it.each([
    // WCAG 2.2, 1.4.3: text 4.5; 1.4.11: parts of controls and meaningful lines 3.
    ['ink', ['paper', 'wash', 'chalk-wash', 'board'], 4.5],
    ['ink-2', ['paper', 'wash', 'chalk-wash'], 4.5],
    ['chalk', ['paper', 'wash', 'chalk-wash'], 4.5],
    ['chalk-2', ['paper', 'wash', 'chalk-wash'], 4.5],
    ['on-chalk', ['chalk', 'chalk-2'], 4.5],
    ['edge', ['paper', 'wash', 'chalk-wash'], 3],
    ['stand', ['paper', 'part'], 3],
    ['line', ['plate', 'board', 'wood-1', 'wood-2', 'wood-3', 'new-1', 'new-2', 'new-3'], 3],
  ] as const)('%s is clear on %j', (over, grounds, least) => {
    for (const scheme of [light, dark])
      for (const ground of grounds)
        expect(contrast(scheme[over] as string, scheme[ground] as string), ground).toBeGreaterThanOrEqual(
          least,
        );
  });

  it('names its fonts in their packages', () => {
    expect(pageFonts(handbook()).map(({ module }) => module)).toContain(
      '@fontsource/source-sans-3/files/source-sans-3-latin-500-normal.woff2',
    );
  });

  it('gives every colour that its sheet uses', () => {
    const sheet = siteStyles(handbook(), [], 2);
    const used = [...sheet.matchAll(/var\(--([a-z0-9-]+)\)/g)].map((found) => found[1] as string);
    const known = [...COLOURS, 'serif', 'sans'];
    expect(used.length).toBeGreaterThan(50);
    expect([...new Set(used)].filter((name) => !known.includes(name))).toEqual([]);
    expect(sheet).toContain('prefers-color-scheme:dark');
    expect(sheet).toContain('body:has(#edition-2:checked) .ed:not([data-ed="2"]){display:none}');
    expect(sheet).not.toContain('/*');
  });
});

describe('a theme with faults', () => {
  it.each([
    ['no JSON', '{ "name": ', 'expected JSON'],
    ['a colour that is none', json.replace('#fdfcf8', 'ivory'), 'for "paper" under "light"'],
    ['a way out of the stylesheet', json.replace('#fdfcf8', '#fff;}</style>'), 'for "paper" under "light"'],
    ['a missing colour', json.replace('"rule"', '"ruler"'), 'for "rule" under "light", found none'],
    ['no dark colours', json.replace('"dark"', '"night"'), 'colours under "dark"'],
    ['a family that is none', json.replace('"Besley"', '"Bes;ley"'), 'a font family for "serif"'],
    ['a logo that is not there', json.replace('"logo": null', '"logo": "mark.svg"'), 'no file mark.svg'],
  ])('%s is said', (_, theme, message) => {
    const { value, diagnostics } = readTheme(files(theme));
    expect(value).toBeUndefined();
    expect(diagnostics.map((item) => item.message).join('\n')).toContain(message);
    expect(diagnostics[0]?.origin.file).toBe('themes/x/theme.json');
  });

  it('without a file is said', () => {
    expect(readTheme(new Map()).diagnostics[0]?.message).toBe(
      'expected a theme with a file theme.json, found no such file',
    );
  });
});
