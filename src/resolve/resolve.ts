/** Gives every formula of a plan its value, in one edition: sizes, faces, lengths, counts, courses. */
import type { Diagnostic, Origin, Outcome } from '../diagnostics.ts';
import { fault, hasErrors } from '../diagnostics.ts';
import type { Edition, PlanSource, ShopSource, StockItem, StockList, Written } from '../read/types.ts';
import { placeIn } from '../read/written.ts';
import { mm } from '../units.ts';
import { type Context, formulaOf, numberOf } from './context.ts';
import { quantityOf } from './evaluate.ts';
import { factsOf, type PartFacts } from './facts.ts';
import type { Formula } from './formula.ts';
import { Graph } from './graph.ts';
import { hardwarePlace } from './hardware.ts';
import { depthOf, stopsOf } from './housings.ts';
import { lookUp, sizeValue } from './lookup.ts';
import { doubtfulPairs } from './pairs.ts';
import { parseFormula } from './parser.ts';
import { resolvePart } from './part.ts';
import { outlineSize } from './placement.ts';
import { figure } from './quantities.ts';
import { boardOf, speciesOf } from './stock.ts';
import type { Evaluated, Quantity, ResolvedPlan, Rounding } from './types.ts';
import { unusedSizes } from './used.ts';
import { writtenFormulas } from './written-formulas.ts';

/**
 * Resolves a plan for one edition. All faults of the plan are found in one run; what rests on a faulty size isn't reported
 * again. The value is undefined where there is an error. Never throws on what an author wrote.
 * @param shop for its stock lists
 */
export function resolvePlan(
  source: PlanSource,
  edition: Edition,
  shop: ShopSource,
): Outcome<ResolvedPlan | undefined> {
  const diagnostics: Diagnostic[] = [];
  const report = (diagnostic: Diagnostic): void => {
    diagnostics.push({ ...diagnostic, edition: edition.key });
  };
  const list = shop.stockLists.find((one) => one.key === edition.stockList);
  if (!list) {
    // said once, where the shop file names the list (shop.stock-unknown), and not again in each plan
    return { value: undefined, diagnostics };
  }
  const { context, species, roundings, sizes } = start(source, edition, list, shop, report);
  for (const written of writtenFormulas(source)) formulaOf(context, written);
  // First, so that a depth that rests on what it lengthens is told once.
  for (const [index, joint] of source.joints.entries()) if (joint.depth) depthOf(context, index);
  const outline = (['across', 'deep', 'up'] as const).map((direction) =>
    mm(outlineSize(context, direction) ?? 0),
  );
  const quantities = source.sizes.flatMap((size) => {
    const quantity = sizeValue(context, size, size.formula.origin);
    return quantity ? [{ name: size.name, quantity, origin: size.nameOrigin }] : [];
  });
  // a board whose own faults were said in the stock list: what rests on it isn't said again
  const lacksBoard = list.faulty !== undefined && [...context.parts.values()].some(({ stock }) => !stock);
  const parts = source.parts.flatMap((part) => {
    const facts = context.parts.get(part.key) as PartFacts;
    const resolved = resolvePart(context, facts, species.get(part.key));
    if (!resolved && !hasErrors(diagnostics) && !lacksBoard)
      report(
        fault('part.unresolved', part.origin, {
          expected: `a place and sizes for "${part.key}"`,
          found: 'none that can be worked out',
          parts: [part.key],
        }),
      );
    return resolved ? [resolved] : [];
  });
  const count = (kind: string, index: number, written: Written): number | undefined =>
    numberOf(context, `the count of ${kind} ${index + 1}`, written, 'count');
  const jointCounts = source.joints.map((joint, index) => joint.count && count('joint', index, joint.count));
  const jointSetBacks = source.joints.map(
    (joint, index) => joint.setBack && setBackOf(context, index, joint.setBack),
  );
  const jointSpacings = source.joints.map(
    (joint, index) => joint.leastSpacing && spacingOf(context, index, joint.leastSpacing),
  );
  const jointStops = source.joints.map((_, index) => stopsOf(context, index));
  const hardwareCounts = source.hardware.map((item, index) => count('hardware', index, item.count) ?? 0);
  const hardwarePlaces = source.hardware.map((_, index) => hardwarePlace(context, index));
  for (const diagnostic of doubtfulPairs(context.formulas, edition)) report(diagnostic);
  if (hasErrors(diagnostics)) return { value: undefined, diagnostics };
  // Not beside errors: a misspelt name would be told twice.
  for (const diagnostic of unusedSizes(source, context.formulas)) report(diagnostic);
  const [width, depth, height] = outline as [
    ReturnType<typeof mm>,
    ReturnType<typeof mm>,
    ReturnType<typeof mm>,
  ];
  const value: ResolvedPlan = {
    source,
    edition,
    stockList: list,
    outline: { width, depth, height },
    sizes: quantities,
    parts,
    jointCounts,
    jointSetBacks,
    jointSpacings,
    jointStops,
    hardwareCounts,
    hardwarePlaces,
    roundings: sortedRoundings(roundings),
    evaluate: evaluator(context, sizes),
  };
  return { value, diagnostics };
}

/** How far the outermost fasteners of a joint lie from the ends of where its parts meet, mm; undefined after a report. */
function setBackOf(context: Context, index: number, written: Written): number | undefined {
  const check = (value: number): Diagnostic | undefined =>
    value > 0
      ? undefined
      : fault('joint.set-back', written.origin, {
          expected: 'a set back above 0: how far the outermost lie from the ends of where the parts meet',
          found: figure(value, context.edition.numbers),
          hint: 'set back: 2 in | 50 mm',
        });
  return numberOf(context, `the set back of joint ${index + 1}`, written, 'length', written.origin, check);
}

/** The least distance from one fastener of a joint to the next, mm; undefined after a report. */
function spacingOf(context: Context, index: number, written: Written): number | undefined {
  const check = (value: number): Diagnostic | undefined =>
    value > 0
      ? undefined
      : fault('joint.least-spacing', written.origin, {
          expected: 'a least spacing above 0: the least distance from one to the next',
          found: figure(value, context.edition.numbers),
          hint: 'least spacing: 1 in | 25 mm',
        });
  const name = `the least spacing of joint ${index + 1}`;
  return numberOf(context, name, written, 'length', written.origin, check);
}

interface Started {
  readonly context: Context;
  readonly species: ReadonlyMap<string, string>;
  readonly roundings: Map<string, Rounding>;
  readonly sizes: ReadonlyMap<string, PlanSource['sizes'][number]>;
}

function start(
  source: PlanSource,
  edition: Edition,
  list: StockList,
  shop: ShopSource,
  report: (diagnostic: Diagnostic) => void,
): Started {
  const boards = new Map<string, StockItem | undefined>(
    source.parts.map((part) => [part.key, boardOf(part, list, edition, shop, report)]),
  );
  const species = speciesOf(source, boards, list, edition, report);
  const parts = new Map(source.parts.map((part) => [part.key, factsOf(part, boards.get(part.key), report)]));
  const sizes = new Map(source.sizes.map((size) => [size.name, size]));
  const roundings = new Map<string, Rounding>();
  const graph = new Graph(report);
  const context: Context = {
    source,
    edition,
    list,
    parts,
    report,
    graph,
    formulas: new Map<Written, Formula | undefined>(),
    scope: {
      edition,
      report,
      depth: graph.depth,
      lookUp: (name, origin): Quantity | undefined => lookUp(context, sizes, name, origin),
      rounded: (rounding) => void roundings.set(JSON.stringify(rounding.origin), rounding),
    },
  };
  return { context, species, roundings, sizes };
}

const sortedRoundings = (roundings: ReadonlyMap<string, Rounding>): readonly Rounding[] =>
  [...roundings.values()].sort((a, b) => a.origin.line - b.origin.line || a.origin.column - b.origin.column);

/** Values for inline directives, with the same names and rules as in the blocks. */
function evaluator(context: Context, sizes: Started['sizes']): ResolvedPlan['evaluate'] {
  return (text: string, origin: Origin): Evaluated => {
    const written: Written = { text, origin };
    const problems: Diagnostic[] = [];
    const roundings: Rounding[] = [];
    const report = (diagnostic: Diagnostic): void =>
      void problems.push({ ...diagnostic, edition: context.edition.key });
    const read = parseFormula(text);
    if ('fault' in read) {
      const { id, at, ...said } = read.fault;
      return { problem: { ...fault(id, placeIn(written, at), said), edition: context.edition.key } };
    }
    const own: Context = { ...context, report };
    const quantity = quantityOf(read.formula, written, {
      edition: context.edition,
      report,
      depth: context.graph.depth,
      lookUp: (name, at) => lookUp(own, sizes, name, at),
      rounded: (rounding) => void roundings.push(rounding),
    });
    const problem = problems[0];
    if (problem) return { problem };
    return { ...(quantity ? { quantity } : {}), ...(roundings.length > 0 ? { roundings } : {}) };
  };
}
