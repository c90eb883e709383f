/** YAML: every text as typed, at its exact place. */

import { describe, expect, it } from 'vitest';
import { excerptOf, originAt } from '../../src/read/excerpt.ts';
import { type Node, plain, type TextNode, valueAt, written } from '../../src/read/node.ts';
import { placeIn } from '../../src/read/written.ts';
import { readYaml } from '../../src/read/yaml.ts';
import { fc } from '../support/random.ts';

const read = (text: string) => readYaml(excerptOf('f.yaml', text));

/** All texts of a tree. */
function texts(node: Node): TextNode[] {
  if (node.kind === 'text') return [node];
  if (node.kind === 'list') return node.items.flatMap(texts);
  if (node.kind === 'map') return node.entries.flatMap((entry) => [entry.key, ...texts(entry.value)]);
  return [];
}

/** The rest of a line from a place on, counted in characters: what an editor shows there. */
const shown = (text: string, line: number, column: number) =>
  [...(text.split('\n')[line - 1] ?? '')].slice(column - 1).join('');

describe('texts', () => {
  it.each([
    // Numbers, pairs, dates, words of YAML's own and formulas stay what was typed.
    ['a: 2', '2'],
    ['a: 2.50', '2.50'],
    ['a: 3 1/2 in | 1200 mm', '3 1/2 in | 1200 mm'],
    ['a: front + x', 'front + x'],
    ['a: -2 in', '-2 in'],
    ['a: (left + right) / 2', '(left + right) / 2'],
    ['a: 2026-03-14', '2026-03-14'],
    ['a: yes', 'yes'],
    ['a: null', 'null'],
    ['a: 1_000', '1_000'],
    ['a: 0x10', '0x10'],
    ['a: 1x6 T&G', '1x6 T&G'],
    ['a: x # a remark', 'x'],
    ['a: "min(a, b)"', 'min(a, b)'],
    ["a: 'it''s'", "it's"],
    ['a: {b: c}', { b: 'c' }],
    ['a: [b, c]', ['b', 'c']],
    ['a:', null],
    ['a: # nothing', null],
  ] as const)('%s', (text, expected) => {
    const { node, diagnostics } = read(text);
    expect(diagnostics).toEqual([]);
    expect(plain(node)).toEqual({ a: expected });
  });

  it('stand where they stand, in every style', () => {
    const text = [
      'plain: front + x',
      'double: "leg.top"',
      "single:   'leg.top'",
      'flow: { top: leg.top, 😀: leg.front, list: [a, "b"] }',
      'list:',
      '  - one',
      '  - { two: 2 }',
      '? odd',
      ': value',
    ].join('\n');
    const { node, diagnostics } = read(text);
    expect(diagnostics).toEqual([]);
    const all = texts(node);
    expect(all).toHaveLength(20);
    for (const one of all)
      expect(shown(text, one.origin.line, one.origin.column).startsWith(one.text), one.text).toBe(true);
    // By hand: in line 4 `flow: { ` is 8 characters, `top: leg.top, ` 14 more; then the face, `: `, and its value.
    expect(all.find((one) => one.text === '😀')?.origin).toEqual({ file: 'f.yaml', line: 4, column: 23 });
    expect(all.find((one) => one.text === 'leg.front')?.origin.column).toBe(26);
  });

  it('have places inside, also where they are folded over lines or escaped', () => {
    const text = 'a: left +\n  inset\nb: "say \\"x\\" + y"\nc: >\n  one\n  two\n';
    const { node, diagnostics } = read(text);
    expect(diagnostics).toEqual([]);
    const at = (key: string, word: string) => {
      const node_ = valueAt(node, key) as TextNode;
      const place = placeIn(written(node_), node_.text.indexOf(word));
      return shown(text, place.line, place.column).slice(0, word.length);
    };
    expect(plain(node)).toEqual({ a: 'left + inset', b: 'say "x" + y', c: 'one two' });
    for (const [key, word] of [
      ['a', 'left'],
      ['a', '+'],
      ['a', 'inset'],
      ['b', 'say'],
      ['b', 'y'],
      ['c', 'one'],
      ['c', 'two'],
    ] as const)
      expect(at(key, word), `${key} ${word}`).toBe(word);
  });
});

describe('faults', () => {
  it('leave what else is in the document', () => {
    const { node, broken, diagnostics } = read('a: 1\nb: {c: 2\nd: "3\ne: 4\nf: *x\ng: 5\n');
    expect(plain(node)).toEqual({ a: '1', e: '4', g: '5' });
    expect(broken).toEqual(['b', 'd', 'f']);
    expect(diagnostics.map((one) => [one.id, one.origin.line, one.origin.column])).toEqual([
      ['yaml.bracket', 2, 4],
      ['yaml.quote', 3, 4],
      ['yaml.sign', 5, 4],
    ]);
  });

  it('of references that would grow without end are refused, not followed', () => {
    const bomb = `a: &a [x, x]\n${Array.from({ length: 30 }, (_, i) => `b${i}: &b${i} [*a, *a, *a]`).join('\n')}`;
    const { diagnostics } = read(bomb);
    expect(diagnostics.length).toBeGreaterThan(0);
    expect(diagnostics.every((one) => one.id === 'yaml.sign')).toBe(true);
  });

  it.each([
    ['brackets', '['.repeat(100_000)],
    ['braces', '{a: '.repeat(50_000)],
    ['dashes', '- '.repeat(50_000)],
    ['steps in', Array.from({ length: 2000 }, (_, i) => `${' '.repeat(i)}a:`).join('\n')],
    ['length', 'a'.repeat(500_000)],
    ['questions', '? '.repeat(50_000)],
  ])('too much of %s is said at once', (_, text) => {
    const start = performance.now();
    const { diagnostics } = read(text);
    expect(diagnostics.map((one) => one.id)).toEqual(['yaml.depth']);
    expect(performance.now() - start).toBeLessThan(2000);
  });

  it('never throw, and lie inside the text', () => {
    const scraps = fc.constantFrom(
      ...[
        'a',
        'b',
        ': ',
        ':',
        '\n',
        '  ',
        '\t',
        '- ',
        '{',
        '}',
        '[',
        ']',
        ', ',
        '"',
        "'",
        '&x ',
        '*x',
        '!t ',
        '| ',
        '>',
        '#',
        '?',
        '---\n',
        '%',
        '\\',
        'é',
        '😀',
        '\u0000',
        '<<: ',
      ],
    );
    fc.assert(
      fc.property(fc.array(scraps, { maxLength: 40 }), (all) => {
        const text = all.join('');
        const { node, diagnostics } = read(text);
        const lines = text.split('\n');
        plain(node);
        for (const { origin, message } of diagnostics) {
          expect(message).toMatch(/^expected .+, found .+/su);
          expect(origin.line).toBeGreaterThanOrEqual(1);
          expect(origin.line).toBeLessThanOrEqual(lines.length);
          expect(origin.column).toBeGreaterThanOrEqual(1);
          expect(origin.column).toBeLessThanOrEqual([...(lines[origin.line - 1] ?? '')].length + 1);
        }
      }),
      { numRuns: 1500 },
    );
  });
});

describe('places', () => {
  it('count characters, and what was cut off on the left', () => {
    const excerpt = excerptOf('f.md', 'é😀x\ny', 10, [3, 0]);
    expect(originAt(excerpt, 3)).toEqual({ file: 'f.md', line: 10, column: 6 });
    expect(originAt(excerpt, 5)).toEqual({ file: 'f.md', line: 11, column: 1 });
  });
});
