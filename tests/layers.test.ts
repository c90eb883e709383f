/**
 * The layout of src/, read from its imports: a phase imports itself, the phases before it and the shared files; one file
 * names each heavy library; only disk.ts touches the disk; the rooms of a phase have an order too; no file is longer than 400 lines.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const root = fileURLToPath(new URL('..', import.meta.url));
const src = join(root, 'src');

/** Files that every folder may import. */
const SHARED = ['units.ts', 'text.ts', 'diagnostics.ts', 'markdown.ts'];
/** The phases in order: each may import those before it. */
const PHASES = [
  'read',
  'resolve',
  'model',
  'joinery',
  'geometry',
  'cutting',
  'instructions',
  'proof',
  'draw',
  'publish',
];
/**
 * Above the phases: these see what they need, and no phase sees them. `shell` holds what is around the pipeline (words of the
 * command line, cache, swapping in, the preview server, PDFs in threads) and sees what is published, not how it is computed.
 */
const OUTSIDE = [
  'bin.ts',
  'main.ts',
  'build.ts',
  'asked.ts',
  'watch.ts',
  'figures.ts',
  'figures-csv.ts',
  'draft.ts',
  'disk.ts',
  'schemas.ts',
  'tasks.ts',
  'thread.ts',
  'warm-up.ts',
];
/**
 * Rooms of the larger phases in order, and the files that all of a phase share: each may import those before it. `*` is what
 * stands in the phase's folder beside its rooms.
 */
const ROOMS: Readonly<Record<string, readonly string[]>> = {
  cutting: [
    'sheets/types.ts',
    'types.ts',
    'money.ts',
    'highs.ts',
    'check-totals.ts',
    'boards',
    'sheets',
    '*',
  ],
  draw: [
    'types.ts',
    'paper',
    'svg.ts',
    'lines',
    'desk.ts',
    'shading',
    'views',
    'apart',
    'parts',
    'templates',
    'layouts',
    'steps',
    '*',
  ],
  publish: ['types.ts', 'variants.ts', 'words', 'pictures', 'models', 'pdf', 'page', '*'],
};

/** Place of a file in the order of its phase's rooms; undefined in a phase without rooms. */
function roomOf(file: string): number | undefined {
  const [phase = '', room = '', inRoom] = file.split('/');
  const order = ROOMS[phase];
  if (!order) return undefined;
  const alone = order.indexOf(`${room}/${inRoom}`);
  const place = alone >= 0 ? alone : order.indexOf(room);
  return place < 0 && inRoom === undefined ? order.indexOf('*') : place;
}

/** The one file that names each heavy library. */
const WRAPPERS: readonly (readonly [RegExp, string])[] = [
  [/^yaml$/, 'read/yaml.ts'],
  [/^(unified|remark-.*|rehype-.*|micromark.*)$/, 'markdown.ts'],
  [/^highs$/, 'cutting/highs.ts'],
  [/^manifold-3d$/, 'geometry/manifold.ts'],
  [/^(@svgdotjs\/.*|svgdom)$/, 'draw/svg.ts'],
  [/^sharp$/, 'publish/pictures/sharp.ts'],
  [/^@gltf-transform\/.*$/, 'publish/models/glb.ts'],
  [/^@myriaddreamin\/.*$/, 'publish/pdf/typst.ts'],
];
/** Loaded when first needed: a plain import at the top of the file would load them for every command. */
const LOADED_LATE = [
  'highs',
  'manifold-3d',
  'svgdom',
  '@svgdotjs/svg.js',
  'sharp',
  '@gltf-transform/core',
  '@myriaddreamin/typst-ts-node-compiler',
];
const MAY_USE_DISK = ['main.ts', 'build.ts', 'watch.ts'];

interface Import {
  readonly from: string;
  readonly what: string;
  /** `import type` and `export type`: gone before anything runs. */
  readonly typeOnly: boolean;
  readonly late: boolean;
}

/** The imports of a module's text: `import … from`, `export … from`, `import('…')` and types written as `import('…')`. */
function importsOf(file: string, code: string): Import[] {
  // Line comments and doc comments may show an import as an example.
  const bare = code.replaceAll(/\/\*[\s\S]*?\*\//g, '').replaceAll(/(^|\s)\/\/.*$/gm, '$1');
  const found: Import[] = [];
  for (const match of bare.matchAll(
    /^\s*(import|export)\s+(type\s)?(?:[^'";]*?\sfrom\s+)?['"]([^'"]+)['"]/gm,
  ))
    found.push({ from: file, what: match[3] as string, typeOnly: match[2] !== undefined, late: false });
  for (const match of bare.matchAll(/(typeof\s+)?\bimport\(\s*['"]([^'"]+)['"]\s*\)(\.)?/g))
    found.push({
      from: file,
      what: match[2] as string,
      typeOnly: match[1] !== undefined || match[3] === '.',
      late: true,
    });
  return found;
}

function sourceFiles(folder: string): string[] {
  return readdirSync(folder, { withFileTypes: true }).flatMap((entry) => {
    const file = join(folder, entry.name);
    if (entry.isDirectory()) return entry.name === 'generated' ? [] : sourceFiles(file);
    return entry.name.endsWith('.ts') ? [relative(src, file).replaceAll('\\', '/')] : [];
  });
}

/** The breaches among some files, as sentences. Takes the texts, so that the rules themselves can be tested. */
function breaches(texts: Readonly<Record<string, string>>): string[] {
  const wrong: string[] = [];
  for (const [file, code] of Object.entries(texts)) {
    const folder = file.includes('/') ? (file.split('/')[0] as string) : '';
    const lines = code.split('\n').length - (code.endsWith('\n') ? 1 : 0);
    if (lines > 400) wrong.push(`${file} has ${lines} lines, more than 400`);
    if (folder === '' && !SHARED.includes(file) && !OUTSIDE.includes(file))
      wrong.push(`${file} has no place in the layout`);
    if (folder !== '' && folder !== 'shell' && !PHASES.includes(folder))
      wrong.push(`${file} is in a folder that is no phase`);
    const room = roomOf(file);
    if (room === -1) wrong.push(`${file} is in a room that its phase doesn't list`);
    for (const { what, typeOnly, late } of importsOf(file, code)) {
      if (!what.startsWith('.')) {
        const name = what.replace(/^node:/, '');
        if (['fs', 'fs/promises'].includes(name) && file !== 'disk.ts')
          wrong.push(`${file} imports ${what}: only disk.ts may`);
        for (const [library, wrapper] of WRAPPERS)
          if (library.test(what) && file !== wrapper)
            wrong.push(`${file} imports ${what}: only ${wrapper} may`);
        if (LOADED_LATE.includes(what) && !typeOnly && !late)
          wrong.push(`${file} loads ${what} before it is needed`);
        continue;
      }
      if (!what.endsWith('.ts') && !what.endsWith('.json'))
        wrong.push(`${file} imports ${what}: the ending .ts is missing`);
      const target = join(dirname(file), what).replaceAll('\\', '/');
      const targetFolder = target.includes('/') ? (target.split('/')[0] as string) : '';
      if (target === 'disk.ts') {
        // Types of the disk may be named by what is handed one.
        if (!MAY_USE_DISK.includes(file) && !(typeOnly && ['', 'shell'].includes(folder)))
          wrong.push(`${file} imports disk.ts`);
        continue;
      }
      if (target.startsWith('..')) {
        wrong.push(`${file} imports ${what}, outside src/`);
        continue;
      }
      if (SHARED.includes(target)) continue;
      if (SHARED.includes(file)) wrong.push(`${file} is shared and imports ${target}`);
      else if (folder === 'shell') {
        if (!['shell', 'publish'].includes(targetFolder))
          wrong.push(`${file} imports ${target}: shell/ sees what is published only`);
      } else if (folder !== '') {
        const order = PHASES.indexOf(folder);
        const other = PHASES.indexOf(targetFolder);
        if (other < 0) wrong.push(`${file} imports ${target}, which is above the phases`);
        else if (other > order) wrong.push(`${file} imports ${target}, a later phase`);
        else if (room !== undefined && folder === targetFolder && (roomOf(target) ?? 0) > room)
          wrong.push(`${file} imports ${target}, a later room`);
      }
    }
  }
  return wrong;
}

describe('the layout of src/', () => {
  const files = sourceFiles(src);
  const texts = Object.fromEntries(files.map((file) => [file, readFileSync(join(src, file), 'utf8')]));

  it('is kept', () => {
    expect(files.length).toBeGreaterThan(10);
    expect(breaches(texts)).toEqual([]);
  });

  it('names each heavy library in its wrapper', () => {
    // A wrapper that moved would leave its rule without a subject.
    for (const [library, wrapper] of WRAPPERS)
      expect(
        importsOf(wrapper, texts[wrapper] ?? '').some(({ what }) => library.test(what)),
        wrapper,
      ).toBe(true);
  });

  it.each([
    ['a later phase', { 'read/a.ts': "import { x } from '../draw/b.ts';" }],
    ['a later phase through a type', { 'model/a.ts': "import type { X } from '../cutting/b.ts';" }],
    ['a re-export of a later phase', { 'read/a.ts': "export { x } from '../model/b.ts';" }],
    ['an import over several lines', { 'read/a.ts': "import {\n  x,\n  y,\n} from '../model/b.ts';" }],
    ['a late import of a later phase', { 'read/a.ts': "const x = await import('../model/b.ts');" }],
    ['a library outside its wrapper', { 'model/a.ts': "import { parse } from 'yaml';" }],
    ['a library in the wrong wrapper', { 'read/yaml.ts': "import { unified } from 'unified';" }],
    ['a library loaded too soon', { 'cutting/highs.ts': "import highs from 'highs';" }],
    ['the disk in a phase', { 'publish/a.ts': "import { readFileSync } from 'node:fs';" }],
    ['disk.ts in a phase', { 'publish/a.ts': "import { realDisk } from '../disk.ts';" }],
    ['a phase in a shared file', { 'units.ts': "import { x } from './read/a.ts';" }],
    ['build.ts in a phase', { 'draw/a.ts': "import { x } from '../build.ts';" }],
    ['a phase in shell/', { 'shell/a.ts': "import { x } from '../read/a.ts';" }],
    ['a long file', { 'read/a.ts': 'x;\n'.repeat(401) }],
    ['a missing ending', { 'read/a.ts': "import { x } from './b';" }],
    ['an unknown folder', { 'other/a.ts': 'x;' }],
    ['an unknown room', { 'draw/other/a.ts': 'x;' }],
    ['a later room', { 'draw/lines/a.ts': "import { x } from '../steps/b.ts';" }],
    ['the whole from a room', { 'draw/lines/a.ts': "import { x } from '../index.ts';" }],
  ])('a breach is seen: %s', (_, made) => {
    expect(breaches(made)).toHaveLength(1);
  });

  it.each([
    ['an earlier phase', { 'draw/a.ts': "import { x } from '../model/b.ts';" }],
    ['a library in its wrapper, late', { 'cutting/highs.ts': "const x = await import('highs');" }],
    ['types of a library in its wrapper', { 'cutting/highs.ts': "import type { Highs } from 'highs';" }],
    ['an import in a comment', { 'read/a.ts': "/** import { x } from '../draw/b.ts'; */\n// import 'yaml'" }],
    ['an earlier room', { 'draw/steps/a.ts': "import { x } from '../lines/b.ts';" }],
    ['what a phase shares', { 'draw/paper/a.ts': "import type { X } from '../types.ts';" }],
    ['400 lines', { 'read/a.ts': 'x;\n'.repeat(400) }],
  ])('what is allowed passes: %s', (_, made) => {
    expect(breaches(made)).toEqual([]);
  });
});
