/** Random edits of a text, such as a slip of the hand, a lost line or a careless paste makes. */
import { fc } from './random.ts';

/** One edit: `at` and `span` are shares of the text's length, so that an edit fits any text. */
export interface Edit {
  readonly kind:
    | 'cut'
    | 'insert'
    | 'repeat line'
    | 'drop line'
    | 'swap lines'
    | 'number'
    | 'word'
    | 'indent'
    | 'end';
  readonly at: number;
  readonly span: number;
  readonly insert: string;
}

/** What fingers, and people with bad intentions, put into a plan. */
const SCRAPS = [
  '',
  ' ',
  '\t',
  '\n',
  '\r\n',
  '\n\n',
  '```',
  '---',
  ':',
  ': ',
  '- ',
  '|',
  '[',
  ']',
  '{',
  '}',
  '"',
  "'",
  '&a',
  '*a',
  '!!js/function x',
  '<<: *a',
  '#',
  '%',
  '(',
  ')',
  '))))',
  '((((((((((((((((',
  ' + ',
  ' - ',
  '*',
  '/',
  '/ 0',
  '1e999',
  '-1',
  '0',
  '0 in',
  '99999999999999999999 in',
  '1/0 in',
  '3 1/2',
  '3-1/2 in',
  ' mm',
  ' deg',
  ' in | ',
  'min(',
  'round(1, 0)',
  'tan(90 deg)',
  'leg',
  'left',
  'outline.width',
  '__proto__',
  'constructor',
  'toString',
  'slat.first',
  ':size[',
  ':part[leg]',
  ':count[nothing]',
  '::drawing[x]{from="front"}',
  '<script>alert(1)</script>',
  '\u0000',
  '\ufeff',
  '½',
  '″',
  'é',
  '😀',
  '\ud800',
  '\u2028',
];

const share = fc.double({ min: 0, max: 1, noNaN: true });

/** One to four edits. */
export const edits: fc.Arbitrary<Edit[]> = fc.array(
  fc.record({
    kind: fc.constantFrom<Edit['kind']>(
      'cut',
      'insert',
      'repeat line',
      'drop line',
      'swap lines',
      'number',
      'word',
      'indent',
      'end',
    ),
    at: share,
    span: share,
    insert: fc.oneof(
      { weight: 3, arbitrary: fc.constantFrom(...SCRAPS) },
      { weight: 1, arbitrary: fc.string({ maxLength: 12, unit: 'binary' }) },
    ),
  }),
  { minLength: 1, maxLength: 4 },
);

/** The text with the edits made, one after the other. */
export const edited = (text: string, list: readonly Edit[]): string => list.reduce(apply, text);

function apply(text: string, { kind, at, span, insert }: Edit): string {
  const place = Math.floor(at * text.length);
  switch (kind) {
    case 'cut':
      return text.slice(0, place) + text.slice(place + Math.ceil(span * 30));
    case 'insert':
      return text.slice(0, place) + insert + text.slice(place);
    case 'end':
      return text.slice(0, place);
    case 'number':
      return replaceNearest(text, /[0-9]+/g, place, insert);
    case 'word':
      return replaceNearest(text, /[a-z][a-z.-]+/g, place, insert);
  }
  const lines = text.split('\n');
  const line = Math.min(lines.length - 1, Math.floor(at * lines.length));
  const other = Math.min(lines.length - 1, Math.floor(span * lines.length));
  const here = lines[line] ?? '';
  switch (kind) {
    case 'repeat line':
      return lines.toSpliced(line, 0, here).join('\n');
    case 'drop line':
      return lines.toSpliced(line, 1).join('\n');
    case 'swap lines':
      return lines
        .with(line, lines[other] ?? '')
        .with(other, here)
        .join('\n');
    case 'indent':
      return lines.with(line, span < 0.5 ? ` ${here}` : here.replace(/^ /, '')).join('\n');
  }
}

function replaceNearest(text: string, pattern: RegExp, place: number, insert: string): string {
  for (const match of text.matchAll(pattern))
    if (match.index >= place)
      return text.slice(0, match.index) + insert + text.slice(match.index + match[0].length);
  return text;
}
