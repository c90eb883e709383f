/**
 * Faulty plans with the expected messages inside. A case begins with `=== name`; its body is what stands in a plan file after the
 * front matter; after `--- says` come the messages of both editions as they are printed, places counted from the body's
 * first line. Blocks that a case doesn't need are added after its body: the outline of 40 × 20 × 30 in (1000 × 500 × 750 mm), a
 * sound part, and a step that adds every part.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { type Diagnostic, diagnosticText, mergeEditions, sortDiagnostics } from '../../../src/diagnostics.ts';
import { buildPlan } from '../../../src/model/plan.ts';
import { inch, metric, shop, sourceOf } from '../../resolve/shop.ts';

const here = dirname(fileURLToPath(import.meta.url));

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

interface Case {
  readonly name: string;
  readonly body: string;
  readonly says: string;
}

/** The cases of a file. */
function casesIn(text: string): readonly Case[] {
  return text
    .split(/^=== /mu)
    .slice(1)
    .map((piece) => {
      const [head, says = ''] = piece.split(/^--- says\n/mu);
      const [name = '', ...body] = (head as string).split('\n');
      return { name, body: body.join('\n').trimEnd(), says: says.trim() };
    });
}

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

/** What both editions say, places counted from the body's first line. */
function saysOf(body: string): string {
  const source = sourceOf(whole(body), 'plan.md');
  const all = [inch, metric].flatMap((edition) => buildPlan(source, edition, shop).diagnostics);
  return sortDiagnostics(mergeEditions(all, 2))
    .map(
      (item): Diagnostic => ({ ...item, origin: { ...item.origin, line: item.origin.line - FRONT.length } }),
    )
    .map((item) => diagnosticText(item).replace(/^plan\.md:/u, ''))
    .join('\n');
}

const files = (): string[] =>
  readdirSync(here)
    .filter((name) => name.endsWith('.txt'))
    .sort();

for (const file of files()) {
  describe(file, () => {
    const cases = casesIn(readFileSync(join(here, file), 'utf8'));
    it('has cases, each with a name of its own', () => {
      expect(new Set(cases.map(({ name }) => name)).size).toBe(cases.length);
      expect(cases.length).toBeGreaterThan(0);
    });
    for (const { name, body, says } of cases)
      it(name, () => {
        expect(saysOf(body)).toBe(says);
      });
  });
}

/** Messages whose quoted text is what a formula comes to, or what is missing: it stands elsewhere. */
const ELSEWHERE = /\[(?:formula\.(?:dimension|space|zero)|step\.part-twice|assembly\.\w+)\]$/u;

it('places each message at the very text it quotes as found', () => {
  let checked = 0;
  for (const file of files())
    for (const { name, body, says } of casesIn(readFileSync(join(here, file), 'utf8'))) {
      const lines = body.split('\n');
      for (const said of says.split('\n')) {
        const match = /^([0-9]+):([0-9]+): error: .*found (?:[a-z ]+, )?"([^"…]+)"/u.exec(said);
        if (!match || ELSEWHERE.test(said)) continue;
        const rest = [...(lines[Number(match[1]) - 1] as string)].slice(Number(match[2]) - 1).join('');
        expect(rest.slice(0, match[3]?.length), `${name}: ${said}`).toBe(match[3]);
        checked++;
      }
    }
  expect(checked).toBeGreaterThan(30);
});
