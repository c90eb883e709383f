/**
 * The kinds of value a maker writes, as schemas. Each says in plain words what was expected and what to type; the same schema
 * gives the editors' JSON Schema (`jsonschema.ts`). All values are text as typed: `2` is "2".
 */
import { z } from 'zod';
import { lengthHint, readLength } from '../units.ts';
import type { Defects } from './types.ts';

/** How an editor's schema differs from the text that is checked here. */
export interface EditorForm {
  /** JSON Schema that stands for a text form: numbers and yes/no are no texts to an editor. */
  readonly editor?: Readonly<Record<string, unknown>>;
}

/** Separates what was expected from the hint in a schema's message; `check.ts` takes them apart. */
const SPLIT = '\u0001';

/** The message of a schema; a fault that is about keys keeps its own. The hint may be made of what was typed. */
export const says = (expected: string, hint?: string | ((typed: string) => string)) => ({
  error: (issue: { code?: string | undefined; input?: unknown }) => {
    if (issue.code === 'unrecognized_keys' || issue.code === 'invalid_key') return undefined;
    const typed = typeof issue.input === 'string' ? issue.input : '';
    const said = typeof hint === 'function' ? hint(typed) : hint;
    return said === undefined ? expected : `${expected}${SPLIT}${said}`;
  },
});

/** What was expected and the hint, from a schema's message. */
export function saidBy(message: string): { expected: string; hint?: string } {
  const [expected = '', hint] = message.split(SPLIT);
  return hint === undefined ? { expected } : { expected, hint };
}

const DEFECTS_WORDS = 'what knots and checks cost: a share of the length bought, or so much of each board';

const SCALAR = { type: ['string', 'number'] };

/** A line of words. */
export const words = (expected: string, hint?: string) =>
  z
    .string(says(expected, hint))
    .regex(/\S/u, says(expected, hint))
    .meta({ editor: SCALAR, description: expected });

/** A formula, a length, a name: read further by the next phase. */
export const formula = (expected: string, hint?: string) =>
  z
    .string(says(expected, hint))
    .regex(/\S/u, says(expected, hint))
    .meta({ editor: SCALAR, description: expected });

/** A text of a given pattern. */
export const pattern = (expected: string, form: RegExp, hint?: string | ((typed: string) => string)) =>
  z.string(says(expected, hint)).regex(form, says(expected, hint)).describe(expected);

/** A whole number from 1 (or another least) on. */
export const whole = (expected: string, hint: string, least = 1) =>
  z
    .string(says(expected, hint))
    .refine((text) => /^[0-9]{1,6}$/u.test(text) && Number(text) >= least, says(expected, hint))
    .meta({ editor: { type: 'integer', minimum: least }, description: expected });

/** An amount of money or another decimal number, more than 0. */
export const decimal = (expected: string, hint?: string) =>
  z
    .string(says(expected, hint))
    .refine((text) => /^[0-9]{1,7}(?:\.[0-9]{1,2})?$/u.test(text) && Number(text) > 0, says(expected, hint))
    .meta({ editor: { type: 'number', exclusiveMinimum: 0 }, description: expected });

/** One of a few words. */
export const oneOf = <const T extends readonly [string, ...string[]]>(values: T, what: string) =>
  z.enum(values, says(`${what}: ${listed(values)}`)).describe(what);

/** `a, b or c`. */
export const listed = (values: readonly string[]): string =>
  values.length < 2 ? (values[0] ?? '') : `${values.slice(0, -1).join(', ')} or ${values.at(-1)}`;

/** Yes or no, in the words YAML editors know. */
export const yesNo = z
  .enum(['yes', 'no', 'true', 'false'], says('yes or no'))
  .meta({ editor: { enum: ['yes', 'no', true, false] } });

/** A fixed length: no formula, no pair. */
export const fixedLength = (expected: string, example = '3/4 in') =>
  z.string(says(`a length (${expected})`, example)).superRefine((text, context) => {
    if ('length' in readLength(text)) return;
    const hint = lengthHint(text) ?? example;
    context.addIssue({ code: 'custom', message: `a length (${expected})${SPLIT}${hint}` });
  });

/** An area above nothing, in m² or sq ft. */
export const area = (expected: string, hint: string) =>
  z
    .string(says(`${expected}, in m2 or sq ft`, hint))
    .refine((text) => readArea(text) !== undefined, says(`${expected}, in m2 or sq ft`, hint))
    .describe(`${expected}, in m2 or sq ft`);

/** Square metres in a square foot: 0.3048², exact. */
const SQUARE_FOOT = 0.09290304;

/** `10 m2` or `110 sq ft` as m²; nothing where it is neither, or nothing at all. */
export function readArea(text: string): number | undefined {
  const match = /^([0-9]{1,6}(?:\.[0-9]{1,3})?) (m2|m²|sq ft)$/u.exec(text.trim());
  if (match === null) return undefined;
  const read = Number(match[1]) * (match[2] === 'sq ft' ? SQUARE_FOOT : 1);
  return read > 0 ? read : undefined;
}

/** What knots and checks cost: `10 %` as a share of 1, `6 in` as a length; nothing where it is neither. */
export function readDefects(text: string): Defects | undefined {
  const share = /^([0-9]{1,2}(?:\.[0-9])?)\s*%$/u.exec(text.trim())?.[1];
  if (share !== undefined) return { share: Number(share) / 100 };
  const read = readLength(text);
  return 'length' in read ? { length: read.length } : undefined;
}

/** A share or a length of each board. */
export const defects = z
  .string(says(DEFECTS_WORDS, '10 %'))
  .refine((text) => readDefects(text) !== undefined, says(DEFECTS_WORDS, '10 %'))
  .describe(DEFECTS_WORDS);

/** The two sides of a pair `a | b`; one side where there is no bar. */
export function sidesOf(text: string): readonly [left: string, right: string] | readonly [only: string] {
  const at = text.indexOf('|');
  return at === -1 ? [text.trim()] : [text.slice(0, at).trim(), text.slice(at + 1).trim()];
}

/** A fixed length, or a pair of them for the two number systems. */
export const fixedLengthPair = (expected: string) =>
  z.string(says(expected, '1-1/4 in | 32 mm')).superRefine((text, context) => {
    const sides = sidesOf(text);
    if (sides.every((side) => 'length' in readLength(side))) return;
    // A side without a unit means inches on the left, millimetres on the right.
    const tried = sides.map((side, i) => {
      const tidy = [side, `${side} ${i === 0 ? 'in' : 'mm'}`].find((one) => 'length' in readLength(one));
      return tidy ?? lengthHint(side);
    });
    const hint = tried.every((side) => side !== undefined) ? tried.join(' | ') : '1-1/4 in | 32 mm';
    context.addIssue({ code: 'custom', message: `${expected}${SPLIT}${hint}` });
  });

/** A web address. */
export const webAddress = pattern(
  'a web address',
  /^https?:\/\/[^\s/]+\.[^\s]+$/u,
  'https://shop.example.com/potting-bench',
);

/** A real day of the calendar, ISO 8601. */
export const isoDate = z
  .string(says('a date as year-month-day', dateHint))
  .refine(isDay, says('a date as year-month-day', dateHint))
  .meta({ editor: { type: 'string', format: 'date' } });

/** The day that `25.11.2026`, `11/25/2026` or `2026/11/25` means; a day of the shop's own where it could be two days or is none. */
function dateHint(typed: string): string {
  const parts = /^([0-9]{1,4})[./ -]([0-9]{1,2})[./ -]([0-9]{1,4})$/u.exec(typed.trim())?.slice(1) ?? [];
  const iso = ([year, month, day]: readonly (string | undefined)[]): string =>
    `${year?.padStart(4, '20')}-${month?.padStart(2, '0')}-${day?.padStart(2, '0')}`;
  const [a, b, c] = parts;
  const ways = a?.length === 4 ? [iso([a, b, c])] : c?.length === 4 ? [iso([c, b, a]), iso([c, a, b])] : [];
  const days = [...new Set(ways)].filter(isDay);
  return days.length > 0 ? days.join(', or ') : '2026-03-14';
}

/** True for `2026-02-28`, false for `2026-02-30`. */
export function isDay(text: string): boolean {
  const match = /^([0-9]{4})-([0-9]{2})-([0-9]{2})$/u.exec(text);
  if (!match) return false;
  const [year, month, day] = match.slice(1).map(Number) as [number, number, number];
  const leap = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const days = [31, leap ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31][month - 1] ?? 0;
  return year > 0 && day >= 1 && day <= days;
}

/** A currency code of ISO 4217 that this runtime knows. */
export const currency = z
  .string(says('a currency code', 'USD'))
  .refine((text) => CURRENCIES.has(text), says('a currency code of three capitals', 'USD'));

const CURRENCIES: ReadonlySet<string> = new Set(Intl.supportedValuesOf('currency'));
