/** A formula's text cut into words: lengths, angles, numbers, names and signs. */

import { quoted } from '../read/node.ts';
import { doubtfulFraction, lengthHint, scanLength } from '../units.ts';
import type { FormulaFault } from './formula.ts';
import type { Quantity } from './types.ts';

export type Token =
  | {
      readonly kind: 'value';
      readonly at: number;
      readonly end: number;
      readonly quantity: Quantity;
      readonly system?: 'inch' | 'mm';
    }
  | { readonly kind: 'name'; readonly at: number; readonly end: number; readonly name: string }
  | { readonly kind: 'sign'; readonly at: number; readonly end: number; readonly sign: Sign }
  | { readonly kind: 'end'; readonly at: number; readonly end: number };

type Sign = '+' | '-' | '*' | '/' | '(' | ')' | ',' | '|';

/** Longest formula that is read. */
export const LONGEST = 1000;

const SPACE = /\s*/uy;
/** At most nine digits, as in lengths. */
const NUMBER = /(?:[0-9]{1,9}(?:\.[0-9]{1,9})?|\.[0-9]{1,9})/uy;
const ANGLE = /[ \t]*deg(?![\p{L}\p{N}_-])/uy;
const NAME =
  /[\p{L}_](?:[\p{L}\p{M}\p{N}_-]*[\p{L}\p{M}\p{N}_])?(?:\.[\p{L}_](?:[\p{L}\p{M}\p{N}_-]*[\p{L}\p{M}\p{N}_])?)*/uy;

/** Signs that people write for ours, and what to type. */
const OTHER_SIGNS: Readonly<Record<string, string>> = {
  '×': '*',
  '·': '*',
  '÷': '/',
  '−': '-',
  '–': '-',
  '—': '-',
};

const match = (pattern: RegExp, text: string, at: number): string | undefined => {
  pattern.lastIndex = at;
  return pattern.exec(text)?.[0];
};

/** Cuts a formula into tokens, the last of kind `end`; or gives the first fault. Never throws; time grows with the text's length. */
export function tokens(text: string): readonly Token[] | FormulaFault {
  if (text.length > LONGEST)
    return {
      id: 'formula.long',
      at: 0,
      expected: `a formula of at most ${LONGEST} characters`,
      found: `${text.length}`,
      hint: 'name its steps in the sizes block',
    };
  const list: Token[] = [];
  let at = 0;
  for (;;) {
    at += match(SPACE, text, at)?.length ?? 0;
    if (at >= text.length) {
      list.push({ kind: 'end', at: text.trimEnd().length, end: text.length });
      return list;
    }
    const next = tokenAt(text, at, list.at(-1));
    if ('id' in next) return next;
    list.push(next);
    at = next.end;
  }
}

function tokenAt(text: string, at: number, before: Token | undefined): Token | FormulaFault {
  const doubtful = doubtfulFraction(text, at);
  if (doubtful)
    return {
      id: 'length.fraction',
      at,
      expected: 'a hyphen or white space between inches and their fraction',
      found: quoted(doubtful.text),
      hint: doubtful.hint,
    };
  const length = scanLength(text, at);
  if (length)
    return {
      kind: 'value',
      at,
      end: length.end,
      quantity: { kind: 'length', value: length.length },
      system: length.system,
    };
  const number = match(NUMBER, text, at);
  if (number !== undefined) return numberAt(text, at, number);
  const name = match(NAME, text, at);
  if (name !== undefined) return { kind: 'name', at, end: at + name.length, name };
  const sign = String.fromCodePoint(text.codePointAt(at) as number);
  if ('+-*/(),|'.includes(sign)) return { kind: 'sign', at, end: at + 1, sign: sign as Sign };
  if (sign === '°')
    return {
      id: 'formula.sign',
      at,
      expected: 'deg after an angle',
      found: '"°"',
      hint: `write ${
        text
          .slice(0, at)
          .trimEnd()
          .split(/[ (*/]/u)
          .at(-1) || '30'
      } deg`,
    };
  const ours = OTHER_SIGNS[sign];
  if (ours !== undefined)
    return {
      id: 'formula.sign',
      at,
      expected: 'one of + - * / ( ) , |',
      found: `"${sign}"`,
      hint: `write ${ours === '-' || ours === '+' ? `" ${ours} " with white space on both sides` : `"${ours}"`}`,
    };
  if (before?.kind === 'value' && /["″”'′’]/u.test(sign)) {
    // with all of `1/8"` or `3 1/2"`, not its last number alone
    const from = /[0-9][0-9 ./-]*$/u.exec(text.slice(0, at))?.index ?? before.at;
    const hint = lengthHint(text.slice(from, at + 1)) ?? lengthHint(text.slice(before.at, at + 1));
    return {
      id: 'length.unit',
      at,
      expected: 'a unit: in, ft, mm, cm or m',
      found: sign === '"' ? `'"'` : `"${sign}"`,
      ...(hint === undefined ? {} : { hint }),
    };
  }
  const power = sign === '^' || sign === '²' ? powerHint(text, at, sign) : undefined;
  return {
    id: 'formula.sign',
    at,
    expected: 'a length, a number, a name or one of + - * / ( ) , |',
    found: quoted(sign),
    ...(power === undefined ? {} : { hint: power }),
  };
}

/** `write pow(slope, 2)` for `slope ^ 2`. */
function powerHint(text: string, at: number, sign: string): string {
  const base =
    /(?:[0-9][0-9 ./-]*(?:in|ft|mm|cm|m)|[\p{L}\p{N}_.-]+)$/u.exec(text.slice(0, at).trimEnd())?.[0] ?? '…';
  const power = sign === '²' ? '2' : (/^\s*([0-9.]+)/u.exec(text.slice(at + 1))?.[1] ?? '2');
  return `write pow(${base}, ${power})`;
}

function numberAt(text: string, at: number, number: string): Token | FormulaFault {
  const end = at + number.length;
  const angle = match(ANGLE, text, end);
  if (angle !== undefined)
    return { kind: 'value', at, end: end + angle.length, quantity: { kind: 'angle', value: Number(number) } };
  const after = match(/[\p{N}.]/uy, text, end);
  if (after !== undefined)
    return {
      id: 'formula.number',
      at,
      expected: 'a number of at most nine digits before and after its point',
      found: quoted(match(/[\p{N}.]+/uy, text, at) ?? number),
    };
  return { kind: 'value', at, end, quantity: { kind: 'number', value: Number(number) } };
}
