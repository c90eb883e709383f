/**
 * What a paid plan's page may say: "what is sold is never in what is public". The lengths and widths of the cut list are
 * secret, save where they equal one of the outline's three sizes, which the page states.
 */
import { type Diagnostic, fault } from '../../diagnostics.ts';
import type { Block, Inline } from '../../instructions/types.ts';
import { lineText } from '../../text.ts';
import { printed, sizeText } from '../../units.ts';
import type { PlanBundle } from '../types.ts';

/** The secret sizes of all editions as they are printed, `30 3/4″` and `781 mm`. */
export function secretSizes(bundle: PlanBundle): ReadonlySet<string> {
  const secrets = new Set<string>();
  const open = new Set<string>();
  for (const { edition, finished } of bundle.editions) {
    const say = (length: number) => sizeText(printed(length, edition.numbers));
    const { width, depth, height } = finished.plan.outline;
    for (const length of [width, depth, height]) open.add(say(length));
    for (const row of finished.cutList.rows) {
      secrets.add(say(row.length));
      secrets.add(say(row.width));
    }
  }
  return new Set([...secrets].filter((size) => !open.has(size)).sort());
}

/** The secret sizes that a text states as a number of their own: `1 3/4″` is not in `11 3/4″`. */
export function secretsIn(text: string, secrets: ReadonlySet<string>): string[] {
  return [...secrets].filter((size) => {
    const escaped = size.replaceAll(/[.*+?^${}()|[\]\\]/g, '\\$&').replaceAll(' ', '\\s');
    return new RegExp(`(?<![\\d/.]|\\d\\s)${escaped}`, 'u').test(text);
  });
}

const inlineText = (list: readonly Inline[]): string => list.map(oneText).join('');

function oneText(item: Inline): string {
  switch (item.kind) {
    case 'text':
    case 'letter':
      return lineText([item]);
    case 'size':
      // Sizes that stand bare count as well.
      return lineText([{ kind: 'size', size: item.size }]);
    case 'strong':
    case 'emphasis':
    case 'link':
      return inlineText(item.children);
    case 'code':
      return item.text;
    case 'break':
      return ' ';
  }
}

/** A block as plain text, sizes with their unit. */
export function blockText(block: Block): string {
  switch (block.kind) {
    case 'paragraph':
    case 'heading':
      return inlineText(block.children);
    case 'list':
      return block.items.map((item) => item.map(blockText).join(' ')).join(' ');
    case 'quote':
      return block.children.map(blockText).join(' ');
    case 'table':
      return [block.head, ...block.rows].flatMap((row) => row.map(inlineText)).join(' ');
    case 'code':
      return block.text;
    case 'drawing':
    case 'rule':
      return '';
  }
}

/** The paragraphs that may stand on a paid plan's page; pictures asked for in prose are left out as well. */
export const publicBlocks = (blocks: readonly Block[], secrets: ReadonlySet<string>): Block[] =>
  blocks.filter((block) => block.kind !== 'drawing' && secretsIn(blockText(block), secrets).length === 0);

/** The summary, where it is public; empty where it states a secret size. */
export const publicSummary = (bundle: PlanBundle, secrets: ReadonlySet<string>): string =>
  !bundle.free && secretsIn(bundle.front.summary, secrets).length > 0 ? '' : bundle.front.summary;

/** Whether a text holds any size or angle at all, of whatever part. */
export const statesSize = (text: string): boolean => /\d\s?(″|°|mm\b|in\b|inch)|\d\/\d/u.test(text);

/** A paragraph's sentences that state no size, as a paragraph; nothing where each does. */
export function withoutSizes(children: readonly Inline[]): Block[] {
  const sentences: Inline[][] = [[]];
  for (const child of children) {
    if (child.kind !== 'text') {
      sentences.at(-1)?.push(child);
      continue;
    }
    child.text.split(/(?<=[.!?])\s+/u).forEach((part, at) => {
      if (at > 0) sentences.push([]);
      if (part !== '') sentences.at(-1)?.push({ kind: 'text', text: part });
    });
  }
  const open = sentences.filter((sentence) => sentence.length > 0 && !statesSize(inlineText(sentence)));
  if (open.length === 0) return [];
  return [
    {
      kind: 'paragraph',
      children: open.flatMap((sentence, at) =>
        at === 0 ? sentence : [{ kind: 'text' as const, text: ' ' }, ...sentence],
      ),
    },
  ];
}

/**
 * Says where a paid plan's public words state a size of its cut list: such paragraphs are left off the page. Findings stand at
 * the head of the plan file, since prose no longer knows its lines here.
 */
export function publicFindings(bundle: PlanBundle): Diagnostic[] {
  if (bundle.free) return [];
  const secrets = secretSizes(bundle);
  return bundle.editions.flatMap(({ edition, finished }) =>
    [...finished.instructions.opening.map(blockText), bundle.front.summary].flatMap((text) =>
      secretsIn(text, secrets).map(
        (size): Diagnostic => ({
          ...fault(
            'page.secret-size',
            { file: finished.plan.file, line: 1, column: 1 },
            {
              expected: 'public prose without sizes of parts',
              found: `${size}, a size of the cut list, in "${text.slice(0, 60)}"`,
              hint: 'the paragraph is left off the plan page; say it in a section or a step instead',
              edition: edition.key,
            },
          ),
          severity: 'warning',
        }),
      ),
    ),
  );
}
