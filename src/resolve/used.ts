/** Sizes that nothing uses: likely a name that was meant elsewhere. */
import type { Diagnostic } from '../diagnostics.ts';
import type { PlanSource, Written } from '../read/types.ts';
import { type Formula, namesIn } from './formula.ts';

interface Node {
  readonly type: string;
  readonly value?: string;
  readonly children?: readonly Node[];
}

const DIRECTIVES: readonly string[] = ['textDirective', 'leafDirective'];

/** The words in the inline directives of the prose: `:size[floor-inset]`. */
function wordsInDirectives(tree: unknown): ReadonlySet<string> {
  const words = new Set<string>();
  const stack: (readonly [Node, boolean])[] = [[tree as Node, false]];
  for (let entry = stack.pop(); entry; entry = stack.pop()) {
    const [node, inside] = entry;
    if (inside && typeof node.value === 'string')
      for (const word of node.value.match(/[\p{L}_][\p{L}\p{M}\p{N}_-]*/gu) ?? []) words.add(word);
    const within = inside || DIRECTIVES.includes(node.type);
    for (const child of node.children ?? []) stack.push([child, within]);
  }
  return words;
}

/** For a plan without errors: a warning for each size that no formula and no inline value of the prose uses. A side of a pair that isn't taken counts as use. */
export function unusedSizes(
  source: PlanSource,
  formulas: ReadonlyMap<Written, Formula | undefined>,
): readonly Diagnostic[] {
  const used = new Set<string>(wordsInDirectives(source.tree));
  for (const formula of formulas.values())
    for (const { name } of formula ? namesIn(formula) : []) used.add(name);
  return source.sizes
    .filter((size) => !used.has(size.name))
    .map((size) => ({
      id: 'size.unused',
      severity: 'warning' as const,
      origin: size.nameOrigin,
      message: `expected a use of "${size.name}" in a formula or in the text, found none`,
      hint: `leave it out, or print it: :size[${size.name}]`,
    }));
}
