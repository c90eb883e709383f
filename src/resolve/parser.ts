/**
 * Reads a formula by operator precedence (Pratt 1973): from loose to tight `|`, `+ -`, `* /`, the sign before a value.
 * The grammar is that of CSS calc(): `+` and `-` stand between white space, `*` and `/` needn't.
 */

import { quoted } from '../read/node.ts';
import { lengthHint } from '../units.ts';
import type { Formula, FormulaFault } from './formula.ts';
import { FUNCTIONS, isFunction, isStrategy } from './functions.ts';
import { type Token, tokens } from './lexer.ts';
import { nameHint } from './names.ts';

/** Deepest nesting of parentheses, functions and signs. */
export const DEEPEST = 40;

const LEVELS = { '|': 1, '+': 2, '-': 2, '*': 3, '/': 3 } as const;

/** Carries a fault out of the reader; never leaves this file. */
class Stop extends Error {
  readonly fault: FormulaFault;
  constructor(fault: FormulaFault) {
    super(fault.id);
    this.fault = fault;
  }
}

const stop = (id: string, at: number, expected: string, found: string, hint?: string): never => {
  throw new Stop({ id, at, expected, found, ...(hint === undefined ? {} : { hint }) });
};

/** Reads a formula: its tree, or its first fault with the offset. Never throws. */
export function parseFormula(text: string): { readonly formula: Formula } | { readonly fault: FormulaFault } {
  const list = tokens(text);
  if ('id' in list) return { fault: list };
  try {
    return { formula: new Reader(text, list).whole() };
  } catch (error) {
    if (error instanceof Stop) return { fault: error.fault };
    throw error;
  }
}

class Reader {
  private index = 0;
  private readonly text: string;
  private readonly list: readonly Token[];

  constructor(text: string, list: readonly Token[]) {
    this.text = text;
    this.list = list;
  }

  private peek(): Token {
    return this.list[this.index] as Token;
  }

  private word(token: Token): string {
    return token.kind === 'end' ? 'the end' : quoted(this.text.slice(token.at, token.end));
  }

  private isSign(sign: string): boolean {
    const token = this.peek();
    return token.kind === 'sign' && token.sign === sign;
  }

  whole(): Formula {
    if (this.peek().kind === 'end') return stop('formula.empty', 0, 'a formula', 'nothing');
    const formula = this.expression(1, 0);
    const rest = this.peek();
    this.noDecimalComma(rest);
    return rest.kind === 'end'
      ? formula
      : stop(
          'formula.bracket',
          rest.at,
          'the end of the formula',
          this.word(rest),
          'a "(" is missing, or this is one too many',
        );
  }

  /** `3,5 mm`: half the world writes decimals so, but here a comma parts the values of a function. */
  private noDecimalComma({ at, kind }: Token): void {
    if (kind !== 'sign' || this.text[at] !== ',') return;
    const whole = /[0-9]+$/u.exec(this.text.slice(0, at))?.[0];
    const parts = /^,([0-9]+)/u.exec(this.text.slice(at))?.[1];
    if (whole !== undefined && parts !== undefined)
      stop(
        'formula.comma',
        at - whole.length,
        'a point in a decimal number',
        quoted(`${whole},${parts}`),
        `write ${whole}.${parts}`,
      );
  }

  private expression(level: number, depth: number): Formula {
    let left = this.value(depth);
    for (;;) {
      const token = this.peek();
      if (token.kind === 'end') return left;
      if (token.kind !== 'sign') return this.twoValues(token);
      const { sign } = token;
      if (sign === ')' || sign === ',') return left;
      if (sign === '(') return this.twoValues(token);
      if (LEVELS[sign] < level) return left;
      if (sign === '+' || sign === '-') this.spaced(token);
      this.index++;
      const right = this.expression(LEVELS[sign] + 1, depth);
      if (sign === '|') {
        if (this.isSign('|'))
          stop('formula.pair', this.peek().at, 'one "|" in a pair', 'another', 'a pair is left | right');
        return { kind: 'pair', at: token.at, from: left.from, to: right.to, left, right };
      }
      left = { kind: 'operation', at: token.at, from: left.from, to: right.to, operator: sign, left, right };
    }
  }

  private spaced(token: Token): void {
    const { at, end } = token;
    const before = /\s/u.test(this.text[at - 1] ?? '');
    const after = /^\s|^$/u.test(this.text.slice(end, end + 1));
    if (before && after) return;
    const sign = this.text.slice(at, end);
    stop(
      'formula.space',
      at,
      `white space on both sides of "${sign}"`,
      quoted(this.text.slice(Math.max(0, at - 12), end + 12).trim()),
      `write ${quoted(`${this.text.slice(0, at).trimEnd()} ${sign} ${this.text.slice(end).trimStart()}`)}`,
    );
  }

  /** Two values without a sign between them: nearly always a unit that is wrong or missing. */
  private twoValues(token: Token): never {
    const before = this.list[this.index - 1] as Token;
    const bare = before.kind === 'value' && before.quantity.kind === 'number';
    if (bare && token.kind === 'name') {
      // with all of `1/4` or `3 1/2`, not its last number alone
      const from = /[0-9][0-9 ./-]*$/u.exec(this.text.slice(0, before.end))?.index ?? before.at;
      const number = this.text.slice(from, before.end);
      // `2 x leg.width`, `2 leg.width`: a product
      const next = this.list[this.index + 1] as Token;
      const times = /^[x×]$/iu.test(token.name) && next.kind !== 'end' && next.kind !== 'sign';
      if (times || /[.-]/u.test(token.name))
        return stop(
          'formula.sign',
          token.at,
          'one of + - * / between two values',
          this.word(token),
          `write ${number} * ${this.text.slice((times ? next : token).at, (times ? next : token).end)}`,
        );
      const hint = lengthHint(this.text.slice(from, token.end)) ?? `${number} in, or ${number} mm`;
      return stop('length.unit', token.at, 'a unit: in, ft, mm, cm, m or deg', this.word(token), hint);
    }
    if (bare && token.kind === 'value') {
      const rest = /^[0-9][0-9 /.]*/u.exec(this.text.slice(before.at))?.[0].trim() ?? '';
      const hint = lengthHint(rest);
      return stop(
        'length.unit',
        token.at,
        'a sign between two numbers, or a unit after them',
        this.word(token),
        hint,
      );
    }
    return stop('formula.sign', token.at, 'one of + - * / between two values', this.word(token));
  }

  private value(depth: number): Formula {
    if (depth > DEEPEST)
      stop(
        'formula.deep',
        this.peek().at,
        `at most ${DEEPEST} levels of parentheses`,
        'more',
        'name a part of it in the sizes block',
      );
    const token = this.peek();
    if (token.kind === 'value') {
      this.index++;
      return {
        kind: 'literal',
        at: token.at,
        from: token.at,
        to: token.end,
        quantity: token.quantity,
        ...(token.system === undefined ? {} : { system: token.system }),
      };
    }
    if (token.kind === 'name') return this.nameOrCall(token, depth);
    if (token.kind === 'sign' && token.sign === '(') return this.bracket(token, depth);
    if (token.kind === 'sign' && token.sign === '-') {
      this.index++;
      if (this.peek().at !== token.end)
        stop(
          'formula.space',
          token.at,
          'a value before "-", or no white space after it',
          quoted(this.text.slice(token.at, token.at + 12)),
        );
      const value = this.value(depth + 1);
      return { kind: 'minus', at: token.at, from: token.at, to: value.to, value };
    }
    return stop('formula.value', token.at, 'a length, a number, a name or "("', this.word(token));
  }

  private bracket(open: Token, depth: number): Formula {
    this.index++;
    const inside = this.expression(1, depth + 1);
    this.close(open);
    return inside;
  }

  private close(open: Token): number {
    if (!this.isSign(')')) this.noDecimalComma(this.peek());
    if (!this.isSign(')'))
      stop(
        'formula.bracket',
        this.peek().at,
        '")"',
        this.word(this.peek()),
        `the "(" in column ${open.at + 1} of the formula is open`,
      );
    const { end } = this.peek();
    this.index++;
    return end;
  }

  private nameOrCall(token: Token & { kind: 'name' }, depth: number): Formula {
    this.index++;
    if (!this.isSign('('))
      return { kind: 'name', at: token.at, from: token.at, to: token.end, name: token.name };
    if (!isFunction(token.name)) {
      const known = Object.keys(FUNCTIONS);
      const { hint } = token.name === 'calc' ? { hint: 'leave "calc" out' } : nameHint(token.name, known);
      stop('formula.function', token.at, `one of the functions ${known.join(' ')}`, `"${token.name}"`, hint);
    }
    const open = this.peek();
    this.index++;
    let strategy: string | undefined;
    const first = this.peek();
    if (token.name === 'round' && first.kind === 'name' && isStrategy(first.name)) {
      const after = this.list[this.index + 1] as Token;
      if (after.kind === 'sign' && after.sign === ',') {
        strategy = first.name;
        this.index += 2;
      }
    }
    const values = [this.argument(depth)];
    while (this.isSign(',')) {
      this.index++;
      values.push(this.argument(depth));
    }
    const to = this.close(open);
    const { least, most } = FUNCTIONS[token.name] as { least: number; most: number };
    if (values.length < least || values.length > most)
      stop(
        'formula.arguments',
        token.at,
        `${least === most ? least : `${least} to ${most}`} value${most === 1 ? '' : 's'} in ${token.name}()`,
        `${values.length}`,
      );
    return {
      kind: 'call',
      at: token.at,
      from: token.at,
      to,
      name: token.name,
      ...(strategy === undefined ? {} : { strategy }),
      values,
    };
  }

  private argument(depth: number): Formula {
    const formula = this.expression(LEVELS['+'], depth + 1);
    if (this.isSign('|'))
      stop('formula.pair', this.peek().at, 'a pair in parentheses', '"|"', 'write (left | right)');
    return formula;
  }
}
