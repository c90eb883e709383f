/** `draft`: a new plan to start from, and in an empty folder a shop around it. */
import type { Disk } from './disk.ts';

/** Files of the program's own shop that a new shop starts with. */
const STARTING_FOLDERS = ['stock', 'hardware'];

/**
 * Writes `content/plans/<slug>/plan.md`, and what a shop needs besides where there is no `content/shop.yaml` yet.
 * Gives the files written, relative to the shop, or a sentence on why nothing was written. Never writes over a file.
 */
export function writeDraft(disk: Disk, shop: string, slug: string, program: string): string[] | string {
  const file = `content/plans/${slug}/plan.md`;
  if (disk.exists(`${shop}/content/plans/${slug}`))
    return `there is a plan "${slug}" already: content/plans/${slug}/`;
  const written: string[] = [];
  const write = (name: string, content: Uint8Array | string): void => {
    if (disk.exists(`${shop}/${name}`)) return;
    disk.write(`${shop}/${name}`, content);
    written.push(name);
  };
  if (!disk.exists(`${shop}/content/shop.yaml`)) {
    write('content/shop.yaml', SHOP);
    for (const folder of STARTING_FOLDERS)
      for (const name of disk.files(`${program}content/${folder}`))
        write(`content/${folder}/${name}`, disk.read(`${program}content/${folder}/${name}`));
  }
  write(file, draftPlan(titleOf(slug), nextNumber(disk, shop), disk.today()));
  return written;
}

const titleOf = (slug: string): string => {
  const words = slug.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
};

/** One more than the highest number of the shop's plans. A plan that can't be read counts as none: `proof` says what is wrong. */
function nextNumber(disk: Disk, shop: string): number {
  const numbers = disk
    .files(`${shop}/content/plans`)
    .filter((name) => name.endsWith('/plan.md'))
    .map((name) => {
      const text = new TextDecoder().decode(disk.read(`${shop}/content/plans/${name}`));
      return Number(/^number:\s*([0-9]{1,6})\s*$/m.exec(text)?.[1] ?? 0);
    });
  return Math.max(0, ...numbers) + 1;
}

/** A shop file to fill in. Its editions are the built-in ones, on the stock lists written beside it. */
const SHOP = `# Your shop: printed in the catalogue, on each plan's page and on its sheets. Put your own words in place of these.
name: The name of your shop
address: Your street and town
email: you@shop.example.com
url: https://shop.example.com/    # where the site will stand
currency: USD                     # the one a page shows first
strapline: A few words on what you make

about: |
  Who you are and how you work. A blank line starts a new paragraph.

licence: |
  Build from this plan as often as you like. Don't pass the plan itself on.

safety:
  - "The instructions of the makers of your tools come first. Where this plan says otherwise, follow them."
  - "Local codes and rules come before this plan. Work that calls for a licence is for those who hold one."
  - "Wear eye protection whenever a blade, a bit or a hammer moves, and hearing protection at machines."
  - "Keep hands well away from the blade, and clamp what you bore or cut."

theme: handbook                   # a folder in themes/, or the built-in one

editions:                         # both are there without a word; here stands what is otherwise
  imperial:
    stock: north-american-softwood    # a file in content/stock/
    kerf: 1/8 in                      # what your saw takes with each cut
  metric:
    stock: metric-softwood
    kerf: 3 mm
`;

/** A small crate with a title of the author's: every block of the language once, each in its simplest form. */
export const draftPlan = (title: string, number: number, date: string): string => `---
title: ${title}
number: ${number}
summary: A crate of square-cut boards, to change into the piece you have built.
kind: storage
price: free
skill: A first piece
time: An evening
revisions:
  - revision: A
    date: ${date}
    note: First print.
---

What is written here, before the first heading, opens the plan and its page. Say what the piece is for and what is good
about it. The crate is there so that you have something to change: save the file while \`kerfleaf preview\` runs, and look.

The first block holds the finished size and your own names for sizes that you use more than once. Left of the bar stands the
imperial edition, right of it the metric one; a size may be a formula.

\`\`\`sizes
outline:
  width: 16 in | 400 mm           # left to right, seen from the front
  depth: 10 in | 250 mm           # front to back
  height: side.width + slat.thickness
slat-gap: 1/4 in | 6 mm           # between the boards of the bottom
\`\`\`

\`\`\`parts
side:
  stock: 1x6                      # a name from content/stock/
  runs: across                    # across, deep or up: where its length goes
  wide face: front
  at: { left: left, right: right, front: front, top: top }
  copies: mirrored front-back     # one in front, one at the back

end:
  stock: 1x6
  runs: deep
  wide face: left
  between: side                   # as long as the room between the two sides
  at: { left: left, top: top }
  copies: mirrored left-right

slat:
  name: Bottom slat
  stock: 1x4
  runs: across
  lay: front to back              # as many as fill the depth
  from: front
  to: back
  gap: slat-gap
  ends: shared                    # the first and the last are ripped alike
  at: { bottom: floor, left: left, right: right }
\`\`\`

\`\`\`joints
- { join: side, to: end, by: screws, count: 2, from: front }
- { join: slat, to: end, by: screws, count: 1, from: bottom }
\`\`\`

## Steps

Cut all parts first and mark each with its letter.

### Screw the sides to the ends

\`\`\`step
adds: [side, end]
from: front left above
tools: [Square]
\`\`\`

Stand both :part[end] between the two :part[side], flush at the top and at the corners. They are
:size[end.length] long. Bore first, then drive :count[screws] screws in all.

### Close the bottom

\`\`\`step
adds: [slat]
from: front left below
\`\`\`

Turn the crate over. Rip the two outer slats to :size[slat.first] and lay all :count[slat] with gaps of :size[slat-gap].
One screw at each end of a slat is enough.

## Finish

Break the edges with sandpaper. Oil it or leave it bare.
`;
