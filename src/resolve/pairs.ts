/** Pairs that are most likely not what the author meant: sides changed round, or a face on one side alone. */
import type { Diagnostic } from '../diagnostics.ts';
import type { Edition, Written } from '../read/types.ts';
import { placeIn } from '../read/written.ts';
import type { Formula, Literal } from './formula.ts';

type Pair = Extract<Formula, { readonly kind: 'pair' }>;

/** Lengths this near to each other are one length in two systems: 2 in and 50 mm, 3/4 in and 20 mm. Common practice, no source. */
const ALIKE = 0.15;
/** Faces that lie at 0, so that a length beside them is a place already. */
const AT_NOUGHT: ReadonlySet<string> = new Set(['left', 'front', 'floor']);

/** Warnings of one edition for the pairs in its formulas, each at the pair. */
export function doubtfulPairs(
  formulas: ReadonlyMap<Written, Formula | undefined>,
  edition: Edition,
): readonly Diagnostic[] {
  return [...formulas].flatMap(([written, formula]) =>
    (formula ? nodesOf(formula) : []).flatMap((node) => {
      if (node.kind !== 'pair') return [];
      const text = (part: Formula): string => written.text.slice(part.from, part.to).trim();
      const doubt = turnedRound(node, edition, text) ?? faceOnOneSide(node, text);
      if (!doubt) return [];
      const found = `"${written.text.slice(node.from, node.to).trim()}"`;
      return [
        {
          id: doubt.id,
          severity: 'warning' as const,
          origin: placeIn(written, node.from),
          message: `expected ${doubt.expected}, found ${found}`,
          hint: doubt.hint,
        },
      ];
    }),
  );
}

interface Doubt {
  readonly id: string;
  readonly expected: string;
  readonly hint: string;
}

/** `400 mm | 16 in`: this edition takes the side of the other system. */
function turnedRound(pair: Pair, edition: Edition, text: (part: Formula) => string): Doubt | undefined {
  const own = edition.numbers.system;
  const [mine, other] = edition.side === 'left' ? [pair.left, pair.right] : [pair.right, pair.left];
  const systems = (part: Formula) => new Set(lengthsIn(part).map(({ system }) => system));
  const [taken, left] = [systems(mine), systems(other)];
  if (taken.size !== 1 || left.size !== 1 || taken.has(own) || !left.has(own)) return undefined;
  return {
    id: 'pair.turned',
    expected:
      'the sides of a pair as the editions take them: inches left of the bar, millimetres right of it',
    hint: `${text(pair.right)} | ${text(pair.left)}`,
  };
}

/** `right - 2 in | 50 mm`: the bar parts the whole formula, so that one edition has the length alone. */
function faceOnOneSide({ left, right }: Pair, text: (part: Formula) => string): Doubt | undefined {
  const [sum, alone] = right.kind === 'literal' ? [left, right] : [right, left];
  if (alone.kind !== 'literal' || sum.kind !== 'operation') return undefined;
  const { operator, left: base, right: added } = sum;
  if ((operator !== '+' && operator !== '-') || added.kind !== 'literal' || base.kind === 'literal')
    return undefined;
  if (base.kind === 'name' && AT_NOUGHT.has(base.name) && operator === '+') return undefined;
  if (added.system === undefined || alone.system === undefined || added.system === alone.system)
    return undefined;
  const [a, b] = [added.quantity.value, alone.quantity.value];
  if (Math.abs(a - b) > ALIKE * Math.max(a, b)) return undefined;
  const [one, two] = sum === left ? [added, alone] : [alone, added];
  return {
    id: 'pair.face',
    expected: `"${text(base)}" on both sides of the bar, which parts the whole formula`,
    hint: `${text(base)} ${operator} (${text(one)} | ${text(two)})`,
  };
}

/** A formula and all within it. */
function nodesOf(formula: Formula): readonly Formula[] {
  const found: Formula[] = [];
  const stack: Formula[] = [formula];
  for (let node = stack.pop(); node; node = stack.pop()) {
    found.push(node);
    if (node.kind === 'minus') stack.push(node.value);
    else if (node.kind === 'call') stack.push(...node.values);
    else if (node.kind === 'operation' || node.kind === 'pair') stack.push(node.right, node.left);
  }
  return found;
}

const lengthsIn = (formula: Formula): readonly Literal[] =>
  nodesOf(formula).filter((node): node is Literal => node.kind === 'literal' && node.system !== undefined);
