/**
 * Parts of faulty plans with their messages, several in a file `plan/*.txt`. A case begins with `=== name`; its body is what stands in a
 * plan file after the front matter; after `--- says` come the messages of both editions as they are printed, places counted from the
 * body's first line. Blocks that a case doesn't need are added after its body: the outline of 40 × 20 × 30 in (1000 × 500 × 750 mm), a
 * sound part, and a step that adds every part. The shop is that of `tests/resolve/shop.ts`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { type Diagnostic, diagnosticText, mergeEditions, sortDiagnostics } from '../../src/diagnostics.ts';
import { buildPlan } from '../../src/model/plan.ts';
import { inch, metric, shop, sourceOf } from '../resolve/shop.ts';

const folder = fileURLToPath(new URL('./plan/', import.meta.url));

const FRONT = [
  '---',
  'title: Faulty',
  'number: 1',
  'summary: A faulty plan.',
  'kind: garden',
  'price: free',
  'skill: Any',
  'time: A day',
  'revisions: [{ revision: A, date: 2026-01-09, note: First. }]',
  '---',
];

const OUTLINE =
  '```sizes\noutline: { width: 40 in | 1000 mm, depth: 20 in | 500 mm, height: 30 in | 750 mm }\n```';
const SOUND =
  '```parts\nsound: { stock: 1x4, runs: across, wide face: front, at: { left: left, right: right, front: front, top: top } }\n```';

export interface Fragment {
  /** `plan/steps.txt: a part that no step adds`. */
  readonly name: string;
  readonly text: string;
  readonly expected: string;
}

/** All fragments, file by file. */
export const fragments = (): Fragment[] =>
  readdirSync(folder)
    .filter((name) => name.endsWith('.txt'))
    .sort()
    .flatMap((file) =>
      readFileSync(folder + file, 'utf8')
        .split(/^=== /mu)
        .slice(1)
        .map((piece) => {
          const [head, says = ''] = piece.split(/^--- says\n/mu);
          const [name = '', ...body] = (head as string).split('\n');
          return { name: `plan/${file}: ${name}`, text: body.join('\n').trimEnd(), expected: says.trim() };
        }),
    );

/** The plan file that a fragment stands in. */
function whole(body: string): string {
  const blocks = [...FRONT, body];
  if (!/^outline:/mu.test(body)) blocks.push('', OUTLINE);
  if (!/^```parts/mu.test(body)) blocks.push('', SOUND);
  if (!/^```step/mu.test(body) && !body.includes('## Steps')) {
    const parts = /^```parts\n([^`]*)/mu.exec(blocks.join('\n'))?.[1] ?? '';
    const keys = [...parts.matchAll(/^([\w-]+):/gmu)].map((match) => match[1]);
    blocks.push('', '## Steps', '', '### Build', '', '```step', `adds: [${keys.join(', ')}]`, '```');
  }
  return `${blocks.join('\n')}\n`;
}

/** What both editions say of a fragment, places counted from its first line. */
export function fragmentReport(body: string): string {
  const source = sourceOf(whole(body), 'plan.md');
  const all = [inch, metric].flatMap((edition) => buildPlan(source, edition, shop).diagnostics);
  return sortDiagnostics(mergeEditions(all, 2))
    .map(
      (item): Diagnostic => ({ ...item, origin: { ...item.origin, line: item.origin.line - FRONT.length } }),
    )
    .map((item) => diagnosticText(item).replace(/^plan\.md:/u, ''))
    .join('\n');
}
