/**
 * Writes every drawing of the given plans as an SVG file, and one page that shows them all, to a folder.
 * `npm run gallery -- <folder> [plan …]` draws the plans of the demo shop in all editions; without a folder, to `.kerfleaf/drawings`.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { type DrawInput, drawPlan, loadSvg } from '../../src/draw/index.ts';
import type { Drawing } from '../../src/draw/types.ts';
import { lineText } from '../../src/text.ts';
import { demoWorks, repository } from '../draw/demo-work.ts';

const escaped = (value: string): string =>
  value.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('"', '&quot;');

const figure = (drawing: Drawing): string =>
  `<figure id="${drawing.id}">${drawing.svg}<figcaption>${escaped(lineText(drawing.caption))} ` +
  `${escaped(drawing.scale)}, ${drawing.width} × ${drawing.height} mm<br><small>${escaped(drawing.alt)}</small></figcaption></figure>`;

/** Writes the drawings of plans to `folder`; returns the names of the files. */
export async function writeGallery(
  folder: string,
  works: readonly { name: string; work: DrawInput }[],
): Promise<string[]> {
  await loadSvg();
  mkdirSync(folder, { recursive: true });
  const names: string[] = [];
  const sections = works.map(({ name, work }) => {
    const set = drawPlan(work);
    for (const [list, ending] of [
      [set.drawings, ''],
      [set.narrow, '-narrow'],
    ] as const)
      for (const drawing of list) {
        const file = `${name}-${drawing.id}${ending}.svg`;
        writeFileSync(join(folder, file), drawing.svg);
        names.push(file);
      }
    return (
      `<h1>${escaped(name)}</h1><div>${set.drawings.map(figure).join('')}</div>` +
      `<h2>for a phone</h2><div>${set.narrow.map(figure).join('')}</div>`
    );
  });
  const page =
    '<!doctype html><html lang="en"><meta charset="utf-8"><title>Drawings</title><style>' +
    "body{font:14px 'Source Sans 3',sans-serif;background:#fdfcf8;color:#1f1c19;margin:2em}" +
    'div{display:flex;flex-wrap:wrap;gap:2em;align-items:end}figure{margin:0;max-width:190mm}</style>' +
    `${sections.join('')}</html>`;
  writeFileSync(join(folder, 'index.html'), page);
  return names;
}

const [, entry, folder, ...plans] = process.argv;
if (entry?.endsWith('gallery.ts')) {
  const target = folder ?? join(repository, '.kerfleaf', 'drawings');
  const names = await writeGallery(target, await demoWorks(repository, plans));
  console.log(`${names.length} drawings; open ${join(target, 'index.html')}`);
}
