/** What layouts of boards and of sheets are both drawn with: the room of a drawing, how blocks fill drawings, tint and hatch. */
import { type Desk, NARROW_WIDTH, type Place } from '../desk.ts';
import { boxOfMarks, line, type Mark, moved } from '../paper/marks.ts';
import type { Box, Segment } from '../paper/plane.ts';
import type { Room } from '../types.ts';

/** Spacing of the hatch of an offcut, mm. */
const HATCH = 1.8;

/** The room of a drawing with layouts, mm of paper. */
export const layoutRoom = (desk: Desk, place: Place): Room =>
  place === 'narrow' ? { width: NARROW_WIDTH - 1, height: 300 } : desk.sheetRoom({ letter: 187.4, a4: 205 });

/** One drawing: what stands on it, its marks, its number from 1, and which of how many it is, in words. */
export interface LayoutPage<Item> {
  readonly items: readonly Item[];
  readonly marks: readonly Mark[];
  readonly index: number;
  /** `, 2 of 3`; nothing where there is only one. */
  readonly of: string;
}

/**
 * Blocks under each other, `between` mm apart, as many a drawing as its room holds. `first` marks stand on each drawing. The first drawing
 * stands below something that takes `taken` mm of its room, where a block has room there.
 */
export function pagesOf<Item>(
  blocks: readonly { readonly of: Item; readonly marks: readonly Mark[] }[],
  between: number,
  room: Room,
  first: readonly Mark[] = [],
  taken = 0,
): LayoutPage<Item>[] {
  const pages: { items: Item[]; marks: Mark[]; height: number }[] = [];
  const tall = ({ top, bottom }: Box): number => bottom - top;
  const lead = blocks[0] === undefined ? 0 : tall(boxOfMarks(blocks[0].marks));
  const below = lead + taken <= room.height - 1 ? taken : 0;
  const roomOf = (index: number): number => room.height - 1 - (index === 0 ? below : 0);
  for (const { of, marks } of blocks) {
    const box = boxOfMarks(marks);
    const height = tall(box);
    let page = pages.at(-1);
    if (page === undefined || page.height + between + height > roomOf(pages.length - 1)) {
      page = { items: [], marks: [...first], height: -between };
      pages.push(page);
    }
    page.marks.push(...moved(marks, 0, page.height + between - box.top));
    page.height += between + height;
    page.items.push(of);
  }
  return pages.map(({ items, marks }, index) => ({
    items,
    marks,
    index: index + 1,
    of: pages.length > 1 ? `, ${index + 1} of ${pages.length}` : '',
  }));
}

/** A tinted rectangle. */
export const rectangle = (box: Box): Mark => ({
  kind: 'fill',
  fill: 'board',
  loops: [
    [
      [box.left, box.top],
      [box.right, box.top],
      [box.right, box.bottom],
      [box.left, box.bottom],
    ],
  ],
});

/** Lines at 45 degrees, cut at the box: no clip path, so that nothing in the file needs a name. */
export function hatch(box: Box): Mark[] {
  const { left, right, top, bottom } = box;
  const lines: Segment[] = [];
  const step = HATCH * Math.SQRT2;
  const first = Math.ceil((left + top) / step) * step;
  for (let sum = first; sum < right + bottom; sum += step) {
    // x + y = sum
    const x0 = Math.max(left, sum - bottom);
    const x1 = Math.min(right, sum - top);
    if (x1 - x0 > 0.1)
      lines.push([
        [x0, sum - x0],
        [x1, sum - x1],
      ]);
  }
  return lines.length === 0 ? [] : [line('hatch', ...lines)];
}
