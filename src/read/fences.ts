/** Finds the part blocks of a plan: fenced code whose info word is one of ours, and what is almost one. */
import type { Code, Nodes, Root } from 'mdast';
import { visit } from 'unist-util-visit';
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { type Excerpt, excerptOf } from './excerpt.ts';
import { listed } from './forms.ts';
import { nearest } from './nearest.ts';
import { quoted } from './node.ts';

const BLOCKS = ['sizes', 'variants', 'parts', 'joints', 'hardware', 'step'] as const;
export type BlockKind = (typeof BLOCKS)[number];

export interface Fence {
  readonly kind: BlockKind;
  readonly node: Code;
  readonly excerpt: Excerpt;
  /** The opening fence. */
  readonly origin: Origin;
}

/** Where a Markdown node starts; columns as characters. */
export function placeOf(node: Nodes, file: string, lines: readonly string[]): Origin {
  const { line, column } = node.position?.start ?? { line: 1, column: 1 };
  return { file, line, column: [...(lines[line - 1] ?? '').slice(0, column - 1)].length + 1 };
}

/** Other languages that code in prose may have; none of them is a misspelt block. */
const OTHERS = /^(?:text|txt|yaml|yml|md|markdown|json|sh|csv|html|css|js|ts)$/u;

/** All blocks of a plan in the file's order, wherever they stand. */
export function findFences(
  tree: Root,
  file: string,
  lines: readonly string[],
): { readonly fences: readonly Fence[]; readonly diagnostics: readonly Diagnostic[] } {
  const fences: Fence[] = [];
  const diagnostics: Diagnostic[] = [];
  visit(tree, 'code', (node, _, parent) => {
    const position = node.position;
    if (!position) return;
    const origin = placeOf(node, file, lines);
    const opening = lines[position.start.line - 1] ?? '';
    const fenced = /^[`~]{3,}/u.test(opening.slice(position.start.column - 1));
    if (!fenced) return;
    const word = node.lang ?? '';
    const kind = BLOCKS.find((one) => one === word);
    const signs = /^[`~]+\s*/u.exec(opening.slice(position.start.column - 1))?.[0] ?? '';
    const at = { ...origin, column: origin.column + signs.length };
    if (kind === undefined) {
      if (word === '') diagnostics.push(...swallowed(node, origin, lines));
      const near = OTHERS.test(word) || word === '' ? undefined : nearest(word, BLOCKS);
      if (near !== undefined)
        diagnostics.push(
          fault('block.unknown', at, {
            expected: `${listed(BLOCKS)} as the word of a block`,
            found: quoted(word),
            hint: near,
          }),
        );
      return;
    }
    if (parent?.type !== 'root') {
      diagnostics.push(
        fault('block.nested', origin, {
          expected: 'a block at the left margin, outside lists and quotations',
          found: `a "${kind}" block inside one`,
          hint: 'Move the block out, with an empty line before it.',
        }),
      );
      return;
    }
    const closing = (lines[position.end.line - 1] ?? '').trim();
    const isClosed = position.end.line > position.start.line && /^(?:`{3,}|~{3,})$/u.test(closing);
    // No YAML line begins like a fence: where one does, this block was meant to end before it.
    const inner = node.value.split('\n').findIndex((line) => /^\s*(?:`{3}|~{3})/u.test(line));
    if (inner !== -1 || !isClosed)
      diagnostics.push(
        fault('block.open', origin, {
          expected: `three back-ticks on a line of their own that close the "${kind}" block`,
          found:
            inner === -1
              ? 'the end of the file'
              : `the next block in line ${position.start.line + 1 + inner}`,
          hint: '```',
        }),
      );
    fences.push({ kind, node, origin, excerpt: excerptOfFence(node, file, lines, inner) });
  });
  return { fences, diagnostics };
}

/**
 * Back-ticks without a word that hold one of our blocks: they were meant to close a block whose own first line has too few of them, so
 * that it is prose. The fault is there.
 */
function swallowed(node: Code, origin: Origin, lines: readonly string[]): Diagnostic[] {
  const held = node.value.split('\n').findIndex((line) => {
    const word = /^\s*(?:`{3,}|~{3,})\s*([a-z]+)\s*$/u.exec(line)?.[1];
    return BLOCKS.some((kind) => kind === word);
  });
  if (held === -1) return [];
  for (let line = origin.line - 1; line > 0; line -= 1) {
    const above = lines[line - 1] ?? '';
    if (/^\s*(?:`{3}|~{3})/u.test(above)) break;
    const [, ticks = '', word = ''] = /^\s*(`{1,2}|~{1,2})\s*([a-z]+)\s*$/u.exec(above) ?? [];
    if (!BLOCKS.some((kind) => kind === word)) continue;
    return [
      fault(
        'block.open',
        { ...origin, line, column: above.indexOf(ticks) + 1 },
        {
          expected: 'three back-ticks before the word of a block',
          found: quoted(above.trim()),
          hint: `\`\`\`${word}`,
        },
      ),
    ];
  }
  return [
    fault('block.open', origin, {
      expected: `back-ticks that close before the next block, in line ${origin.line + 1 + held}`,
      found: 'none, and no word behind these that says what they begin',
      hint: 'Write the word of the block behind them, or leave them out.',
    }),
  ];
}

function excerptOfFence(node: Code, file: string, lines: readonly string[], end: number): Excerpt {
  const first = (node.position?.start.line ?? 0) + 1;
  // A fence may be indented by up to three spaces; as many are cut off its content.
  const content = node.value.split('\n').slice(0, end === -1 ? undefined : end);
  const shifts = content.map((text, i) => {
    const raw = lines[first - 1 + i] ?? '';
    return raw.endsWith(text) ? raw.length - text.length : 0;
  });
  return excerptOf(file, content.join('\n'), first, shifts);
}
