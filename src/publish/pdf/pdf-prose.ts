/**
 * Words for the sheets, as plain data that the theme's Typst files read from JSON. The author's text goes in as strings and is
 * never compiled, so a `#`, `@`, `*`, `$`, `<` or backslash prints as it was written.
 */
import type { Block, Inline } from '../../instructions/types.ts';
import type { Line } from '../../text.ts';
import { figuresOf, type NumberStyle, printed, type Size } from '../../units.ts';

export type SheetInline =
  | string
  /** A printed size; `numerator` is empty where there is no fraction. */
  | {
      readonly kind: 'size';
      readonly whole: string;
      readonly numerator: string;
      readonly denominator: string;
      readonly unit: string;
    }
  | { readonly kind: 'letter'; readonly letter: string }
  | { readonly kind: 'strong' | 'emphasis'; readonly children: readonly SheetInline[] }
  /** `address` is printed after the words, which on paper lead nowhere. */
  | {
      readonly kind: 'link';
      readonly href: string;
      readonly address: string;
      readonly children: readonly SheetInline[];
    }
  | { readonly kind: 'code'; readonly text: string }
  | { readonly kind: 'break' };

export type SheetLine = readonly SheetInline[];

export type SheetBlock =
  | { readonly kind: 'paragraph'; readonly children: SheetLine }
  | { readonly kind: 'heading'; readonly level: number; readonly children: SheetLine }
  | {
      readonly kind: 'list';
      readonly ordered: boolean;
      readonly items: readonly (readonly SheetBlock[])[];
    }
  | { readonly kind: 'caution'; readonly blocks: readonly SheetBlock[] }
  | {
      readonly kind: 'table';
      readonly align: readonly ('left' | 'right' | 'center')[];
      readonly head: readonly SheetLine[];
      readonly rows: readonly (readonly SheetLine[])[];
    }
  | { readonly kind: 'code'; readonly lines: readonly string[] }
  | { readonly kind: 'drawing'; readonly drawing: string }
  | { readonly kind: 'rule' };

/** Lists, cautions and emphasis inside one another: deeper ones are set flat, since the compiler's own depth is bounded. */
const DEEPEST = 5;

// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters have no shape, and PDF/UA forbids what has none
const CONTROL = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f\ufeff\ufffe\uffff]/g;

/** A run of text as it prints: white space is one space, control characters are left out. */
export const plain = (value: string): string => value.replace(CONTROL, '').replace(/[ \t\r\n]+/g, ' ');

/** A printed size for a sheet. */
export function sheetSize(size: Size, bare: boolean): SheetInline {
  const sign = size.negative ? '−' : '';
  const figures = figuresOf(size);
  return {
    kind: 'size',
    ...figures,
    whole: `${sign}${figures.whole}`,
    unit: size.system === 'inch' ? '″' : bare ? '' : ' mm',
  };
}

/** A length in an edition's style, for tables and facts: millimetres stand bare, for the title strip says the unit once. */
export const sheetLength = (length: number, style: NumberStyle): SheetInline =>
  sheetSize(printed(length, style), true);

/** A line of a table or caption. */
export const sheetLine = (line: Line): SheetLine => sheetInlines(line);

/** Running text. */
export const sheetInlines = (list: readonly Inline[], depth = 0): SheetLine =>
  list.flatMap((item) => sheetInline(item, depth));

function sheetInline(item: Inline, depth: number): readonly SheetInline[] {
  switch (item.kind) {
    case 'text': {
      const value = plain(item.text);
      return value === '' ? [] : [value];
    }
    case 'size':
      return [sheetSize(item.size, item.bare === true)];
    case 'letter':
      return [{ kind: 'letter', letter: item.letter }];
    case 'strong':
    case 'emphasis': {
      const children = sheetInlines(item.children, depth + 1);
      return depth < DEEPEST ? [{ kind: item.kind, children }] : children;
    }
    case 'link': {
      const children = sheetInlines(item.children, depth + 1);
      const target = printedLink(item.href, inlineText(item.children));
      return target === undefined || depth >= DEEPEST ? children : [{ kind: 'link', ...target, children }];
    }
    case 'code': {
      const value = plain(item.text);
      return value === '' ? [] : [{ kind: 'code', text: value }];
    }
    case 'break':
      return [{ kind: 'break' }];
  }
}

/** Where a link leads on paper; nothing for places in the site, which the sheets don't have. */
function printedLink(href: string, words: string): { href: string; address: string } | undefined {
  const target = plain(href).trim();
  if (!/^(https?:\/\/|mailto:)\S+$/i.test(target) || target.length > 2000) return undefined;
  const address = target.replace(/^(https?:\/\/|mailto:)/i, '').replace(/\/$/, '');
  return { href: target, address: words.includes(address) ? '' : address };
}

function inlineText(list: readonly Inline[]): string {
  return list
    .map((item) =>
      item.kind === 'text' || item.kind === 'code'
        ? item.text
        : 'children' in item
          ? inlineText(item.children)
          : '',
    )
    .join('');
}

/** Prose: headings begin at level 2, below the sheet's own, and no level is skipped (ISO 14289-1, 7.4.2). */
export function sheetBlocks(blocks: readonly Block[]): readonly SheetBlock[] {
  let level = 1;
  const depths = blocks.flatMap((block) => (block.kind === 'heading' ? [block.depth] : []));
  const top = Math.min(...depths, 6);
  return blocks.flatMap((block): SheetBlock[] => {
    if (block.kind !== 'heading') return sheetBlock(block, 0);
    level = Math.min(2 + block.depth - top, level + 1, 3);
    return [{ kind: 'heading', level, children: sheetInlines(block.children) }];
  });
}

function sheetBlock(block: Block, depth: number): SheetBlock[] {
  const inside = (list: readonly Block[]): SheetBlock[] =>
    list.flatMap((item) => sheetBlock(item, depth + 1));
  switch (block.kind) {
    case 'paragraph':
      return [{ kind: 'paragraph', children: sheetInlines(block.children) }];
    case 'heading':
      // Inside a list or a caution a heading is a line in bold: it opens no section.
      return [
        { kind: 'paragraph', children: [{ kind: 'strong', children: sheetInlines(block.children, 1) }] },
      ];
    case 'list':
      return depth >= DEEPEST
        ? block.items.flatMap(inside)
        : [{ kind: 'list', ordered: block.ordered, items: block.items.map(inside) }];
    case 'quote':
      return depth >= DEEPEST || depth > 1
        ? inside(block.children)
        : [{ kind: 'caution', blocks: inside(block.children) }];
    case 'table':
      return [sheetTable(block)];
    case 'code':
      return [{ kind: 'code', lines: block.text.split('\n').map(codeLine) }];
    case 'drawing':
      return [{ kind: 'drawing', drawing: block.drawing }];
    case 'rule':
      return [{ kind: 'rule' }];
  }
}

/** Spaces in a line of code hold their place. */
const codeLine = (line: string): string =>
  line.replaceAll('\t', '    ').replace(CONTROL, '').replaceAll(' ', '\u00a0');

/** A table with as many cells in each row as its head has. */
function sheetTable(block: Extract<Block, { kind: 'table' }>): SheetBlock {
  const columns = Math.max(1, block.head.length);
  const row = (cells: readonly (readonly Inline[])[]): SheetLine[] =>
    Array.from({ length: columns }, (_, i) => sheetInlines(cells[i] ?? []));
  return {
    kind: 'table',
    align: Array.from({ length: columns }, (_, i) => block.align[i] ?? 'left'),
    head: row(block.head),
    rows: block.rows.map(row),
  };
}
