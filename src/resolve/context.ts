/** What the steps of resolving share: the plan, its formulas as trees, the graph of values, and the way to report. */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import type { Edition, PlanSource, StockList, Written } from '../read/types.ts';
import { placeIn } from '../read/written.ts';
import { fitting, quantityOf, type Scope, type Wanted } from './evaluate.ts';
import type { PartFacts } from './facts.ts';
import type { Formula } from './formula.ts';
import type { Graph } from './graph.ts';
import { parseFormula } from './parser.ts';

export interface Context {
  readonly source: PlanSource;
  readonly edition: Edition;
  readonly list: StockList;
  readonly graph: Graph;
  readonly scope: Scope;
  readonly parts: ReadonlyMap<string, PartFacts>;
  readonly formulas: Map<Written, Formula | undefined>;
  readonly report: (diagnostic: Diagnostic) => void;
}

/** The tree of a written formula; read once, and a fault reported once. */
export function formulaOf(
  context: Pick<Context, 'formulas' | 'report'>,
  written: Written,
): Formula | undefined {
  if (context.formulas.has(written)) return context.formulas.get(written);
  const read = parseFormula(written.text);
  const formula = 'formula' in read ? read.formula : undefined;
  if ('fault' in read) {
    const { id, at, ...said } = read.fault;
    context.report(fault(id, placeIn(written, at), said));
  }
  context.formulas.set(written, formula);
  return formula;
}

/**
 * The value of a formula in a place that wants a length (mm) or a count.
 * @param name under which the value is kept and shown in circles: `leg.top`
 * @param origin where it is asked for
 * @param check what else may be wrong with the value; such a value counts as unknown
 */
export function numberOf(
  context: Context,
  name: string,
  written: Written,
  wanted: Exclude<Wanted, 'any'>,
  origin: Origin = written.origin,
  check: (value: number) => Diagnostic | undefined = () => undefined,
): number | undefined {
  return context.graph.value(name, origin, () => {
    const formula = formulaOf(context, written);
    const value = formula && quantityOf(formula, written, context.scope);
    const fit = value && fitting(value, wanted, written, name, context.scope);
    const problem = fit === undefined ? undefined : check(fit);
    if (problem) context.report(problem);
    return problem ? undefined : fit;
  });
}
