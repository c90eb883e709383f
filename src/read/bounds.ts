/** What no plan needs and would keep a computer busy for long: found before the text is read. */
import { type Diagnostic, fault } from '../diagnostics.ts';

const LONGEST = 200_000;
const LONGEST_LINE = 20_000;
const BRACKETS = 2000;
const DEEPEST = 8;

/** List items and quotations within each other on one line. */
const CONTAINERS = new RegExp(
  `^(?:[ \\t]*(?:>[ \\t]?|(?:[-*+]|[0-9]{1,9}[.)])[ \\t]+)){${DEEPEST + 1},}`,
  'u',
);
/** A list item far to the right stands in as many others. */
const FAR_RIGHT = new RegExp(`^[ \\t]{${DEEPEST * 4},}(?:[-*+]|[0-9]{1,9}[.)])[ \\t]`, 'u');
/** Marks of emphasis within each other: a row of them with a letter on the same line. */
const STARS = /[*_~]{100,}[^*_~\s]|[^*_~\s][*_~]{100,}/u;
/** A directive that holds others: the language has none. */
const CONTAINER_DIRECTIVE = /^[\s>*+-]*:{3,}\s*[A-Za-z]/u;

/** Faults of a text that is too long or too deep to be a plan; none of a plan. */
export function tooMuchProse(file: string, lines: readonly string[]): Diagnostic[] {
  const said: Diagnostic[] = [];
  let length = 0;
  let brackets = 0;
  const say = (line: number, id: string, expected: string, found: string, hint?: string) => {
    const words = { expected, found, ...(hint === undefined ? {} : { hint }) };
    said.push(fault(id, { file, line, column: 1 }, words));
  };
  for (const [i, line] of lines.entries()) {
    const before = { length, brackets };
    length += line.length + 1;
    if (before.length <= LONGEST && length > LONGEST)
      say(i + 1, 'plan.length', `a plan of at most ${LONGEST} characters`, 'more');
    if (line.length > LONGEST_LINE) {
      say(i + 1, 'plan.length', `lines of at most ${LONGEST_LINE} characters`, `${line.length}`);
      continue;
    }
    for (const sign of line) if (sign === '[') brackets += 1;
    if (before.brackets <= BRACKETS && brackets > BRACKETS)
      say(i + 1, 'plan.length', `at most ${BRACKETS} opening brackets`, 'more');
    if (CONTAINER_DIRECTIVE.test(line))
      say(
        i + 1,
        'prose.directive',
        'a directive with one colon or two',
        'three or more',
        '::drawing[The bench]',
      );
    else if (CONTAINERS.test(line) || FAR_RIGHT.test(line) || STARS.test(line))
      say(i + 1, 'prose.depth', `at most ${DEEPEST} lists, quotations or emphases within each other`, 'more');
    if (said.length >= 20) break;
  }
  return said;
}
