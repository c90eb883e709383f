/**
 * YAML text to a tree in which every text is as typed and has its exact place. The only file that names the YAML library;
 * `read/shop.ts` loads it when the first file is read. A fault never stops the reading: a document is read again in pieces
 * that start at the left margin, what is wrong is named, and the rest goes on.
 */
import { isAlias, isMap, isScalar, isSeq, type ParsedNode, parseDocument } from 'yaml';
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { type Excerpt, originAt } from './excerpt.ts';
import type { Entry, Node, TextNode } from './node.ts';
import { quoted } from './node.ts';
import { colonFault, explainYaml, type YamlFault } from './yaml-faults.ts';

export interface YamlReading {
  readonly node: Node;
  /** Keys at the left margin whose values could not be read; a missing-key message about them would be wrong. */
  readonly broken: readonly string[];
  readonly diagnostics: readonly Diagnostic[];
}

/** Groups in groups: more than any block needs, and few enough for every stack. */
const DEEPEST = 30;
const LONGEST = 400_000;

/** Reads an excerpt as one YAML document. Never throws on user data. */
export function readYaml(excerpt: Excerpt): YamlReading {
  const said: Diagnostic[] = [];
  const say = (item: YamlFault) => {
    said.push(
      fault(item.id, originAt(excerpt, item.at), {
        expected: item.expected,
        found: item.found,
        ...(item.hint === undefined ? {} : { hint: item.hint }),
      }),
    );
  };
  const empty: Node = { kind: 'empty', origin: originAt(excerpt, 0) };
  const deep = tooMuch(excerpt.text);
  if (deep) {
    say(deep);
    return { node: empty, broken: ['*'], diagnostics: said };
  }
  const whole = readPiece(excerpt, 0, excerpt.text.length);
  if (whole.faults.every((item) => item.own)) {
    for (const item of whole.faults) say(item);
    return { node: whole.node ?? empty, broken: [], diagnostics: said };
  }
  const nodes: Node[] = [];
  const broken: string[] = [];
  for (const [start, end] of pieces(excerpt.text)) {
    const piece = readPiece(excerpt, start, end);
    const isText = piece.node?.kind === 'text';
    if (isText) say(colonFault(excerpt.text, start + leading(excerpt.text, start)));
    // After a fault of the parser's all others are mostly echoes; faults of our own rules don't hang together.
    else for (const [i, item] of piece.faults.entries()) if (i === 0 || piece.faults[0]?.own) say(item);
    if (!isText && piece.faults.every((item) => item.own)) {
      if (piece.node) nodes.push(piece.node);
    } else
      broken.push(/^(?:-\s+)?["']?([^:"']*)/u.exec(excerpt.text.slice(start, end).trimStart())?.[1] ?? '');
  }
  const joined = join(nodes, said, empty);
  if (said.length === 0 || joined === undefined) {
    const first = whole.faults[0];
    if (first && said.length === 0) say(first);
    broken.push('*');
  }
  return { node: joined ?? empty, broken, diagnostics: said };
}

/** Nesting or length that no plan has, found before the parser works on it. */
function tooMuch(text: string): YamlFault | undefined {
  const said = { id: 'yaml.depth', expected: `at most ${DEEPEST} groups within groups` };
  if (text.length > LONGEST)
    return { ...said, at: 0, expected: `at most ${LONGEST} characters`, found: `${text.length}` };
  let depth = 0;
  for (let at = 0; at < text.length; at += 1) {
    const sign = text[at];
    if (sign === '{' || sign === '[') depth += 1;
    if ((sign === '}' || sign === ']') && depth > 0) depth -= 1;
    if (depth > DEEPEST) return { ...said, at, found: 'more brackets that are not closed' };
  }
  const dashes = new RegExp(`(?:[-?:][ \\t]+){${DEEPEST}}`, 'u').exec(text);
  if (dashes) return { ...said, at: dashes.index, found: 'a row of dashes' };
  const indent = new RegExp(`^[ \\t]{${DEEPEST * 4},}\\S`, 'mu').exec(text);
  return indent ? { ...said, at: indent.index, found: 'a line far to the right' } : undefined;
}

const leading = (text: string, start: number): number => Math.max(0, text.slice(start).search(/\S/u));

/** Stretches that start at the left margin: a key or an item, with all that is indented under it. */
function pieces(text: string): [start: number, end: number][] {
  const starts = [...text.matchAll(/^[^\s#}\]]/gmu)].map((match) => match.index);
  if (starts.length === 0 || text.slice(0, starts[0]).trim() !== '') starts.unshift(0);
  return starts.map((start, i) => [start, starts[i + 1] ?? text.length]);
}

/** The pieces as one node again; undefined where some are keys and some are items. */
function join(nodes: readonly Node[], said: Diagnostic[], empty: Node): Node | undefined {
  const [first] = nodes;
  if (first === undefined) return empty;
  if (first.kind === 'map') {
    const entries = new Map<string, Entry>();
    for (const node of nodes) {
      if (node.kind !== 'map') return undefined;
      for (const entry of node.entries) {
        const other = entries.get(entry.key.text);
        // Twins within one piece were said when it was read; these stand in two.
        if (other === undefined) entries.set(entry.key.text, entry);
        else {
          const { id, ...words } = twice(entry.key.text, other.key.origin.line);
          said.push(fault(id, entry.key.origin, words));
        }
      }
    }
    return { ...first, entries: [...entries.values()] };
  }
  if (first.kind !== 'list') return nodes.length === 1 ? first : undefined;
  if (nodes.some((node) => node.kind !== 'list')) return undefined;
  return { ...first, items: nodes.flatMap((node) => (node.kind === 'list' ? node.items : [])) };
}

const twice = (key: string, line: number) => ({
  id: 'yaml.duplicate',
  expected: 'each key once',
  found: `${quoted(key)} again, which stands in line ${line} already`,
  hint: 'Give one of them another name, or leave it out.',
});

type PieceFault = YamlFault & { readonly own?: boolean };

function readPiece(
  excerpt: Excerpt,
  start: number,
  end: number,
): { readonly node?: Node; readonly faults: readonly PieceFault[] } {
  const text = excerpt.text.slice(start, end);
  const faults: PieceFault[] = [];
  try {
    const document = parseDocument(text, {
      schema: 'failsafe',
      prettyErrors: false,
      uniqueKeys: false,
      logLevel: 'error',
      strict: true,
    });
    for (const item of [...document.errors, ...document.warnings].sort((a, b) => a.pos[0] - b.pos[0])) {
      const said = explainYaml(excerpt.text, {
        code: item.code,
        message: item.message,
        at: item.pos[0] + start,
      });
      faults.push(said);
    }
    if (document.contents === null) return { faults };
    const node = convert(document.contents, { excerpt, start, own: faults, depth: 0 });
    return { node, faults };
  } catch {
    // The parser ran out of stack or met a case of its own: the text is at fault, not the program.
    faults.push({
      id: 'yaml.form',
      at: start,
      expected: 'a key, a colon and a value, or an item of a list',
      found: quoted(text.split('\n')[0] ?? ''),
    });
    return { faults };
  }
}

interface Converting {
  readonly excerpt: Excerpt;
  /** Offset of the piece in the excerpt. */
  readonly start: number;
  readonly own: PieceFault[];
  readonly depth: number;
}

function convert(node: ParsedNode, context: Converting): Node {
  const at = (node.range?.[0] ?? 0) + context.start;
  const origin = originAt(context.excerpt, at);
  const own = (item: YamlFault) => context.own.push({ ...item, own: true });
  const deeper = { ...context, depth: context.depth + 1 };
  if (isAlias(node)) {
    const line = explainYaml(context.excerpt.text, { code: 'BAD_ALIAS', message: '', at });
    context.own.push({ ...line, id: 'yaml.sign' });
    return { kind: 'empty', origin };
  }
  const props = node as { anchor?: string; tag?: string };
  if (props.anchor !== undefined)
    context.own.push(explainYaml(context.excerpt.text, { code: 'ANCHOR', message: '', at: at - 1 }));
  if (context.depth > DEEPEST * 2) {
    own({ id: 'yaml.depth', at, expected: `at most ${DEEPEST} groups within groups`, found: 'more' });
    return { kind: 'empty', origin };
  }
  if (isSeq(node)) {
    const items = node.items.map((item) => convert(item as ParsedNode, deeper));
    return { kind: 'list', items, origin };
  }
  if (isMap(node)) return { kind: 'map', origin, entries: entriesOf(node, context, deeper) };
  if (!isScalar(node)) return { kind: 'empty', origin };
  const value = String(node.value ?? '');
  const isPlain = node.type === 'PLAIN' || node.type === undefined || node.type === null;
  if (value === '' && isPlain) return { kind: 'empty', origin };
  return textNode(context, node.type ?? 'PLAIN', value, at);
}

/** The pairs of a map, each key once. */
function entriesOf(
  node: ParsedNode & { items: readonly unknown[]; flow?: boolean },
  context: Converting,
  deeper: Converting,
): Entry[] {
  const entries = new Map<string, Entry>();
  for (const pair of node.items as readonly { key: ParsedNode; value: ParsedNode | null }[]) {
    const at = (pair.key?.range?.[0] ?? node.range?.[0] ?? 0) + context.start;
    const origin = originAt(context.excerpt, at);
    const own = (item: Omit<YamlFault, 'at'>) => context.own.push({ ...item, at, own: true });
    if (!isScalar(pair.key) || pair.key.value === '') {
      own({ id: 'yaml.key', expected: 'a key in words', found: 'something else before the colon' });
      continue;
    }
    const key: TextNode = { kind: 'text', text: String(pair.key.value), origin };
    if (pair.value === null && node.flow) {
      own({
        id: 'yaml.comma',
        expected: 'a key, a colon and a value after each comma',
        found: quoted(key.text),
        hint: commaHint([...entries.values()].at(-1), key.text),
      });
      continue;
    }
    const first = entries.get(key.text);
    if (first) {
      own(twice(key.text, first.key.origin.line));
      continue;
    }
    const after = originAt(context.excerpt, (pair.key.range?.[1] ?? 0) + context.start + 1);
    const value: Node = pair.value === null ? { kind: 'empty', origin: after } : convert(pair.value, deeper);
    entries.set(key.text, { key, value: value.kind === 'empty' ? { ...value, origin: after } : value });
  }
  return [...entries.values()];
}

/** A formula such as `min(a, b)` falls apart at its comma; quotes keep it whole. */
function commaHint(before: Entry | undefined, word: string): string {
  if (before?.value.kind !== 'text' || !before.value.text.includes('(')) return `${word}: …`;
  return `${before.key.text}: "${before.value.text}, ${word}"`;
}

/** A text with the place of its first character, and of later stretches where it isn't one plain run. */
function textNode(context: Converting, type: string, value: string, at: number): TextNode {
  const { excerpt } = context;
  const source = excerpt.text;
  let start = at;
  if (type.startsWith('QUOTE')) start = at + 1;
  if (type.startsWith('BLOCK')) {
    const next = source.indexOf('\n', at) + 1;
    start = next + leading(source, next);
  }
  const origin = originAt(excerpt, start);
  const text = type.startsWith('BLOCK') ? value.trimEnd() : value;
  if (source.startsWith(text, start) && !text.includes('\n')) return { kind: 'text', text, origin };
  const pieces: { at: number; origin: Origin }[] = [];
  let from = start;
  for (let i = 0; i < text.length; i += 1) {
    const sign = source[from] ?? '';
    if (
      /\s/u.test(text[i] as string) &&
      /\s/u.test(sign) &&
      /^[ \t]*\n/u.test(source.slice(from, from + 200))
    ) {
      while (/\s/u.test(source[from] ?? '')) from += 1;
      while (/\s/u.test(text[i + 1] ?? '')) i += 1;
      pieces.push({ at: i + 1, origin: originAt(excerpt, from) });
    } else if (sign === '\\' && type === 'QUOTE_DOUBLE') {
      from += { x: 4, u: 6, U: 10 }[source[from + 1] ?? ''] ?? 2;
      pieces.push({ at: i + 1, origin: originAt(excerpt, from) });
    } else if (sign === "'" && type === 'QUOTE_SINGLE') {
      from += 2;
      pieces.push({ at: i + 1, origin: originAt(excerpt, from) });
    } else from += 1;
  }
  return { kind: 'text', text, origin, ...(pieces.length === 0 ? {} : { pieces }) };
}
