/**
 * YAML faults in a builder's words. The parser names a fault by code and offset; what the author meant is read from the line.
 * Knows nothing of the library but its codes, so that `yaml.ts` stays the only file that names it.
 */
import { lineAround } from './excerpt.ts';
import { quoted } from './node.ts';

export interface YamlFault {
  readonly id: string;
  readonly at: number;
  readonly expected: string;
  readonly found: string;
  readonly hint?: string;
}

interface Library {
  readonly code: string;
  readonly message: string;
  /** Offset in the text. */
  readonly at: number;
}

/** `  left: - 2 in` as key `left` and value `- 2 in`, with the offset of the value in the line. */
function keyAndValue(line: string): { key: string; value: string; at: number } | undefined {
  const match = /^(\s*(?:-\s+)*)([^\s:#{}[\]"'][^:#]*?)\s*:\s+(\S.*?)\s*$/u.exec(line);
  if (!match) return undefined;
  const value = match[3] as string;
  return { key: match[2] as string, value, at: line.lastIndexOf(value) };
}

/** A value in quotes that YAML leaves alone. */
const inQuotes = (value: string): string => (value.includes('"') ? `'${value}'` : `"${value}"`);

/** Characters that mean something to YAML at the start of a value. */
const SIGNS: Readonly<Record<string, string>> = {
  '-': 'YAML reads "- " as an item of a list',
  '*': 'YAML reads "*" as a reference',
  '&': 'YAML reads "&" as a label',
  '!': 'YAML reads "!" as a tag',
  '|': 'YAML reads "|" as the start of a longer text',
  '>': 'YAML reads ">" as the start of a longer text',
  '%': 'YAML keeps "%" for itself',
  '@': 'YAML keeps "@" for itself',
  '`': 'YAML keeps "`" for itself',
  ',': 'YAML reads "," as the end of a value',
  '?': 'YAML reads "? " as the start of a key',
  '}': 'no "{" stands before it',
  ']': 'no "[" stands before it',
};

/** A value that begins with a sign of YAML's: quotes are what the author needs. */
function signFault(text: string, at: number): YamlFault | undefined {
  const line = lineAround(text, at);
  const pair = keyAndValue(line.text);
  const sign = pair?.value[0] ?? '';
  const why = SIGNS[sign];
  if (pair === undefined || why === undefined) return inlineSignFault(text, at);
  return {
    id: 'yaml.sign',
    at: line.start + pair.at,
    expected: `a value after "${pair.key}:"`,
    found: `${quoted(pair.value)}; ${why}`,
    ...(sign === '}' || sign === ']' ? {} : { hint: `${pair.key}: ${without(pair.value)}` }),
  };
}

/** What the author most likely meant by a value that begins with a sign of YAML's. */
function without(value: string): string {
  const rest = value.slice(1).trim();
  switch (value[0]) {
    case '-':
      return /^[0-9.]/u.test(rest) ? `-${rest}` : `0 in - ${rest}`;
    case '*':
      return rest;
    case '&':
    case '!':
      return rest.replace(/^\S+\s+/u, '');
    case '|':
      return `… | ${rest}`;
    default:
      return inQuotes(value);
  }
}

/** The same inside braces or brackets, or in an item of a list. */
function inlineSignFault(text: string, at: number): YamlFault | undefined {
  const sign = text[at] ?? '';
  const why = SIGNS[sign];
  if (why === undefined || sign === '}' || sign === ']') return undefined;
  const value = /^[^,}\]\n]*/u.exec(text.slice(at))?.[0].trim() ?? sign;
  return {
    id: 'yaml.sign',
    at,
    expected: 'a value',
    found: `${quoted(value)}; ${why}`,
    hint: without(value),
  };
}

/** A line that should be `key: value` and has no colon, or none with a space after it. */
export function colonFault(text: string, at: number): YamlFault {
  const line = lineAround(text, at);
  const content = line.text
    .trim()
    .replace(/^-\s+/u, '')
    .replace(/\s+#.*$/u, '');
  const start = line.start + line.text.indexOf(content);
  const tight = /^([A-Za-z][\w -]*):(\S.*)$/u.exec(content);
  if (tight)
    return {
      id: 'yaml.colon',
      at: start + (tight[1] as string).length + 1,
      expected: 'a space after the colon',
      found: quoted(content),
      hint: `${tight[1]}: ${tight[2]}`,
    };
  return {
    id: 'yaml.colon',
    at: start,
    expected: 'a key, a colon and a value',
    found: quoted(content),
    hint: keyAndSign(content),
  };
}

/** `stock 1x6`, `runs; across`, `runs = across` with a colon; where the value begins is told by a figure, or by the sign. */
function keyAndSign(content: string): string {
  const signed = /^([A-Za-z][\w -]*?)\s*[;=]\s*(\S.*)$/u.exec(content);
  if (signed) return `${signed[1]}: ${signed[2]}`;
  const figure = /^([A-Za-z][A-Za-z -]*?)\s+([0-9].*)$/u.exec(content);
  if (figure) return `${figure[1]}: ${figure[2]}`;
  const two = /^([A-Za-z][\w-]*) ([\w-]+)$/u.exec(content);
  if (two) return `${two[1]}: ${two[2]}`;
  return /^[\w -]+$/u.test(content) ? `${content}: …` : 'key: value';
}

/** `stock 1x6` with no colon makes one value of the lines below it: then the fault stands there, not in the line after. */
function colonAbove(text: string, start: number): number | undefined {
  let end = start - 1;
  while (end > 0) {
    const line = lineAround(text, end - 1);
    const content = line.text.trim();
    if (content !== '' && !content.startsWith('#')) {
      const bare = /^(?:-\s+)?[A-Za-z][\w /"|.;=-]*(?:\s+#.*)?$/u.test(content);
      return bare ? line.start + line.text.indexOf(content) : undefined;
    }
    end = line.start - 1;
  }
  return undefined;
}

/** Two keys inside braces with no comma between them: `{ left: left right: right }`. */
function commaFault(text: string, at: number): YamlFault | undefined {
  const line = lineAround(text, at);
  const before = line.text.slice(0, at - line.start);
  if (!/\{[^}]*$/u.test(before)) return undefined;
  const rest = /^([^,{}[\]:]*?\S)(\s+)([A-Za-z][\w-]*):\s/u.exec(text.slice(at));
  if (!rest) return undefined;
  const [, value = '', space = '', key = ''] = rest;
  return {
    id: 'yaml.comma',
    at: at + value.length + space.length,
    expected: `a comma before "${key}"`,
    found: 'none',
    hint: `${value}, ${key}: …`,
  };
}

function indentFault(text: string, at: number): YamlFault {
  const line = lineAround(text, at);
  const content = line.text.trim();
  const above = colonAbove(text, line.start);
  if (above !== undefined) return colonFault(text, above);
  return {
    id: 'yaml.indent',
    at: line.start + line.text.length - line.text.trimStart().length,
    expected: 'keys of one group to start in the same column',
    found: `${quoted(content)} out of line with the keys above it`,
    hint: 'Give it as many spaces as the line it belongs with.',
  };
}

function bracketFault(text: string, at: number, open: '{' | '['): YamlFault {
  // The fault is where the bracket was opened; the parser only notices at the end.
  const close = open === '{' ? '}' : ']';
  let depth = 0;
  let start = Math.min(at, text.length - 1);
  for (; start > 0; start -= 1) {
    if (text[start] === close) depth += 1;
    if (text[start] === open) {
      if (depth === 0) break;
      depth -= 1;
    }
  }
  return {
    id: 'yaml.bracket',
    at: start,
    expected: `"${close}" to close "${open}"`,
    found: quoted(lineAround(text, start).text.slice(start - lineAround(text, start).start)),
    hint: `Write "${close}" at its end.`,
  };
}

function quoteFault(text: string, at: number, message: string): YamlFault {
  const sign = message.includes('"') ? '"' : "'";
  const line = lineAround(text, at);
  const open = line.text.indexOf(sign);
  const start = open === -1 ? text.lastIndexOf(sign, at - 1) : line.start + open;
  const from = Math.max(0, start);
  return {
    id: 'yaml.quote',
    at: from,
    expected: `${sign === '"' ? 'a double' : 'a single'} quote that closes this one`,
    found: quoted(lineAround(text, from).text.slice(from - lineAround(text, from).start)),
    hint: 'Close the quote in the same line.',
  };
}

function nestedFault(text: string, at: number): YamlFault {
  const line = lineAround(text, at);
  const pair = keyAndValue(line.text);
  if (pair && /:(\s|$)/u.test(pair.value) && !/^["']/u.test(pair.value))
    return {
      id: 'yaml.colon',
      at: line.start + pair.at,
      expected: `one value after "${pair.key}:"`,
      found: `${quoted(pair.value)}, which has a colon of its own`,
      hint: `${pair.key}: ${inQuotes(pair.value)}`,
    };
  const next = text.slice(line.start + line.text.length + 1).search(/\S/u);
  return indentFault(text, next === -1 ? at : line.start + line.text.length + 1 + next);
}

function tokenFault(text: string, fault: Library): YamlFault {
  const line = lineAround(text, fault.at);
  const before = line.text.slice(0, fault.at - line.start);
  if (fault.message.includes('Unexpected , in flow'))
    return {
      id: 'yaml.comma',
      at: fault.at,
      expected: 'a value between two commas',
      found: '", ," with nothing between them',
      hint: 'Leave out one comma.',
    };
  if (/^\s*$/u.test(before) && !/^[}\]]/u.test(line.text.trim())) return indentFault(text, fault.at);
  if (/["']\s*$/u.test(before))
    return {
      id: 'yaml.quote',
      at: fault.at,
      expected: 'nothing after the closing quote',
      found: quoted(text.slice(fault.at, line.start + line.text.length)),
      hint: 'Put the whole value in one pair of quotes, or leave the quotes out.',
    };
  return (
    signFault(text, fault.at) ??
    commaFault(text, fault.at) ?? {
      id: 'yaml.form',
      at: fault.at,
      expected: 'a key, a colon and a value, or an item of a list',
      found: quoted(text.slice(fault.at, line.start + line.text.length)),
    }
  );
}

/** A fault the parser found, in our words. Always gives something with a place. */
export function explainYaml(text: string, fault: Library): YamlFault {
  const { code, message, at } = fault;
  const here = quoted(lineAround(text, at).text.slice(at - lineAround(text, at).start));
  switch (code) {
    case 'TAB_AS_INDENT':
      return {
        id: 'yaml.tab',
        at,
        expected: 'spaces at the start of a line',
        found: 'a tab',
        hint: 'Use two spaces for each step in.',
      };
    case 'BAD_INDENT': {
      const open = /^Flow (map|sequence)/u.exec(message)?.[1];
      return open === undefined ? indentFault(text, at) : bracketFault(text, at, open === 'map' ? '{' : '[');
    }
    case 'BLOCK_AS_IMPLICIT_KEY':
      return signFault(text, at) ?? nestedFault(text, at);
    case 'MULTILINE_IMPLICIT_KEY':
    case 'KEY_OVER_1024_CHARS':
      return colonFault(text, at);
    case 'MISSING_CHAR':
      if (/closing/u.test(message)) return quoteFault(text, at, message);
      if (/flow map/iu.test(message)) return bracketFault(text, at, '{');
      if (/flow seq/iu.test(message)) return bracketFault(text, at, '[');
      return signFault(text, at) ?? colonFault(text, at);
    case 'BAD_DQ_ESCAPE':
      return {
        id: 'yaml.quote',
        at,
        expected: 'no backslash between double quotes',
        found: here,
        hint: 'Use single quotes around a text with a backslash.',
      };
    case 'MULTIPLE_DOCS':
      return {
        id: 'yaml.document',
        at,
        expected: 'one document',
        found: 'a line of "---"',
        hint: 'Leave the line out.',
      };
    case 'UNEXPECTED_TOKEN':
      return tokenFault(text, fault);
    default:
      return (
        signFault(text, at) ??
        commaFault(text, at) ?? {
          id: 'yaml.form',
          at,
          expected: 'a key, a colon and a value, or an item of a list',
          found: here,
        }
      );
  }
}
