/** The words of a plan as HTML: sizes with stacked fractions, letters in circles, prose, tables, cautions. */
import type { Block, Inline } from '../../instructions/types.ts';
import type { Line } from '../../text.ts';
import type { Length, NumberStyle, Size } from '../../units.ts';
import { figuresOf, printed } from '../../units.ts';
import { type Child, type Content, el, htmlOf, safeHref } from './html.ts';

/**
 * A printed size. The space before the fraction is narrow and its slash is hidden from the eye, but both are text: copied or
 * read aloud it is `34 3/4″`.
 */
export function sizeNode(size: Size, options: { bare?: boolean } = {}): Content {
  const sign = size.negative ? '−' : '';
  const { whole, numerator, denominator } = figuresOf(size);
  if (size.system === 'mm') return el('span.sz', {}, `${sign}${whole}${options.bare === true ? '' : ' mm'}`);
  if (numerator === '') return el('span.sz', {}, `${sign}${whole}″`);
  return el(
    'span.sz',
    {},
    `${sign}${whole}`,
    whole === '' ? null : el('span.gap', {}, ' '),
    el('span.fr', {}, el('span', {}, numerator), el('span.vh', {}, '/'), el('span', {}, denominator)),
    '″',
  );
}

/** A length in an edition's style. */
export const lengthNode = (length: Length, style: NumberStyle, options: { bare?: boolean } = {}): Content =>
  sizeNode(printed(length, style), options);

/** A part's letter in its circle. */
export const letterNode = (letter: string): Content =>
  el(letter.length > 1 ? 'span.pt.pt-2' : 'span.pt', {}, letter);

/** A line of text with sizes and letters in it. */
export const lineNodes = (line: Line): Content[] => line.flatMap((run) => inlineNode(run));

function inlineNode(inline: Inline): Content[] {
  switch (inline.kind) {
    case 'text':
      return inline.text === '' ? [] : [{ type: 'text', value: inline.text }];
    case 'size':
      return [sizeNode(inline.size, { bare: inline.bare === true })];
    case 'letter':
      return [letterNode(inline.letter)];
    case 'strong':
      return [el('strong', {}, inlineNodes(inline.children))];
    case 'emphasis':
      return [el('em', {}, inlineNodes(inline.children))];
    case 'link': {
      const href = safeHref(inline.href);
      const words = inlineNodes(inline.children);
      return href === undefined ? words : [el('a', { href }, words)];
    }
    case 'code':
      return [el('code', {}, inline.text)];
    case 'break':
      return [el('br', {})];
  }
}

const inlineNodes = (list: readonly Inline[]): Content[] => list.flatMap(inlineNode);

/** What prose needs from the page it stands in. */
export interface ProseSettings {
  /** Level of the heading above the prose: its own begin one below. */
  readonly level: number;
  /** The picture of a drawing the prose asks for; nothing where the page shows none. */
  readonly drawing?: (id: string) => Child;
}

/** Prose as HTML. */
export const blockNodes = (blocks: readonly Block[], settings: ProseSettings): Content[] =>
  blocks.flatMap((block) => blockNode(block, settings));

function blockNode(block: Block, settings: ProseSettings): Content[] {
  switch (block.kind) {
    case 'paragraph':
      return [el('p', {}, inlineNodes(block.children))];
    case 'heading':
      return [el(`h${Math.min(6, settings.level + 1)}.sub`, {}, inlineNodes(block.children))];
    case 'list':
      return [
        el(
          block.ordered ? 'ol' : 'ul',
          {},
          block.items.map((item) => el('li', {}, itemNodes(item, settings))),
        ),
      ];
    case 'quote':
      return [caution(blockNodes(block.children, settings))];
    case 'table':
      return [tableNode(block)];
    case 'code':
      return [el('pre', { tabIndex: 0 }, el('code', {}, block.text))];
    case 'drawing': {
      const picture = settings.drawing?.(block.drawing);
      return picture === null || picture === undefined || picture === false || typeof picture === 'string'
        ? []
        : [picture];
    }
    case 'rule':
      return [el('hr', {})];
  }
}

/** An item of a list; a single paragraph stands without its own spacing. */
function itemNodes(item: readonly Block[], settings: ProseSettings): Content[] {
  const [first, ...rest] = item;
  if (first?.kind !== 'paragraph') return blockNodes(item, settings);
  return [...inlineNodes(first.children), ...blockNodes(rest, settings)];
}

function tableNode(table: Extract<Block, { kind: 'table' }>): Content {
  const side = (column: number) => (table.align[column] === 'right' ? '.n' : '');
  return el(
    'div.scroll',
    { tabIndex: 0, role: 'region', ariaLabel: 'Table' },
    el(
      'table',
      {},
      el(
        'thead',
        {},
        el(
          'tr',
          {},
          table.head.map((cell, i) => el(`th${side(i)}`, { scope: 'col' }, inlineNodes(cell))),
        ),
      ),
      el(
        'tbody',
        {},
        table.rows.map((row) =>
          el(
            'tr',
            {},
            row.map((cell, i) => el(`td${side(i)}`, {}, inlineNodes(cell))),
          ),
        ),
      ),
    ),
  );
}

/** A caution: an ink frame with a thick left bar and the word. */
export const caution = (words: readonly Child[]): Content =>
  el('div.caution', {}, el('b', {}, 'Caution'), words);

/**
 * The same matter for each edition: said once where the editions agree, else once for each, of which the page shows the one
 * that is chosen. `tag` is the wrapper: a span within a line, a div around blocks.
 */
export function byEdition(variants: readonly (readonly Content[])[], tag: 'span' | 'div'): Content[] {
  const [first, ...others] = variants;
  if (first === undefined) return [];
  const same = htmlOf(first);
  if (others.every((other) => htmlOf(other) === same)) return [...first];
  return variants.flatMap((nodes, index) =>
    nodes.length === 0 ? [] : [el(`${tag}.ed`, { dataEd: `${index + 1}` }, nodes)],
  );
}

/** Prose of all editions, paragraph by paragraph, so that what they share is said once. */
export function proseByEdition(
  variants: readonly (readonly Block[])[],
  settings: (edition: number) => ProseSettings,
): Content[] {
  const nodes = variants.map((blocks, index) => blockNodes(blocks, settings(index)));
  const length = nodes[0]?.length ?? 0;
  if (nodes.some((list) => list.length !== length)) return byEdition(nodes, 'div');
  return Array.from({ length }, (_, at) => nodes.map((list) => list.slice(at, at + 1))).flatMap((each) =>
    byEdition(each, 'div'),
  );
}
