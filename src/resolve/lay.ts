/** The courses of a laid part: its span and its board put together, checked, and filled. */
import type { Diagnostic, Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import type { LaySource, StockItem } from '../read/types.ts';
import { type Context, numberOf } from './context.ts';
import { coursesOf, type Fill, fillSpan, type LayInput, MOST_COURSES, sliverLimit } from './courses.ts';
import { FACES_OF } from './directions.ts';
import type { PartFacts } from './facts.ts';
import { sizeOf, spanOf } from './placement.ts';
import { bodyOf, isPosed } from './pose.ts';
import { figure } from './quantities.ts';
import type { Courses, Span } from './types.ts';

interface Laid {
  readonly facts: PartFacts;
  readonly lay: LaySource;
  readonly stock: StockItem;
  readonly span: Span;
  /** What a whole course covers; mm. */
  readonly cover: number;
  readonly gap: number;
}

/** The courses of a laid part; undefined where it isn't laid or a fault was reported. */
export function layOf(context: Context, facts: PartFacts, origin: Origin): Courses | undefined {
  const { source, stock, broken } = facts;
  const { lay, key } = source;
  if (!lay || broken) return undefined;
  return context.graph.value(`${key}.courses`, origin, (): Courses | undefined => {
    const level = spanOf(context, facts, lay.along, origin);
    const span = level && sloped(context, facts, level, origin);
    const cover = sizeOf(context, facts, lay.along, origin);
    const gap = lay.gap ? numberOf(context, `${key}.gap`, lay.gap, 'length', origin) : 0;
    if (!span || cover === undefined || gap === undefined || !stock) return undefined;
    const laid: Laid = { facts, lay, stock, span, cover, gap };
    const problem = problemOf(context, laid);
    if (problem) {
      context.report(problem);
      return undefined;
    }
    const input: LayInput = {
      span: span.high - span.low,
      cover,
      gap,
      tongue: stock.tongue,
      ends: lay.ends,
      ...(lay.firstTongue === undefined ? {} : { firstTongue: lay.firstTongue }),
      ripped: cover < stock.cover - 0.01,
    };
    const fill = fillSpan(input);
    if (!fill) {
      context.report(tooMany(context, laid));
      return undefined;
    }
    remark(context, laid, fill);
    return { along: lay.along, reversed: lay.reversed, ...coursesOf(input, fill) };
  });
}

/** The span along the boards' own width: of courses that slope it is counted from their lower corner. */
function sloped(context: Context, facts: PartFacts, level: Span, origin: Origin): Span | undefined {
  if (!isPosed(context, facts) || level.high - level.low <= 0.01) return level;
  const size = bodyOf(context, facts, origin)?.size;
  return size && { low: 0, high: size.width };
}

function tooMany(context: Context, { facts, lay, cover, span }: Laid): Diagnostic {
  const { numbers } = context.edition;
  return fault('lay.too-many', lay.origin, {
    expected: `at most ${MOST_COURSES} courses`,
    found: `boards that cover ${figure(cover, numbers)} in ${figure(span.high - span.low, numbers)}`,
    parts: [facts.source.key],
  });
}

/** What keeps the span from being filled at all. */
function problemOf(context: Context, { facts, lay, stock, span, gap }: Laid): Diagnostic | undefined {
  const { numbers } = context.edition;
  const { rip, key } = facts.source;
  const parts = [key];
  const [low, high] = FACES_OF[lay.along];
  if (span.high - span.low <= 0.01) {
    const [start, end] = lay.reversed ? [high, low] : [low, high];
    const [from, to] = lay.reversed ? [span.high, span.low] : [span.low, span.high];
    return fault('lay.span', lay.to.origin, {
      expected: `"to" nearer the ${end} than "from"`,
      found: `from ${figure(from, numbers)} to ${figure(to, numbers)}`,
      hint: `lay: ${start} to ${end} starts at the ${start}`,
      parts,
    });
  }
  const interlocking = stock.profile === 'tongue-and-groove';
  if (gap < 0 || (interlocking && gap > 0))
    return fault('lay.gap', lay.gap?.origin ?? lay.origin, {
      expected: interlocking ? `no gap, since boards of ${stock.key} interlock` : 'a gap of 0 or more',
      found: figure(gap, numbers),
      ...(interlocking ? { hint: 'leave gap out' } : {}),
      parts,
    });
  if (interlocking && rip)
    return fault('lay.rip', rip.origin, {
      expected: `whole courses of ${stock.key}, whose edges interlock`,
      found: 'a rip',
      hint: 'leave rip out',
      parts,
    });
  if (!interlocking && lay.firstTongue)
    return fault('lay.tongue', lay.origin, {
      expected: 'a tongue-and-groove board where "first tongue" is given',
      found: stock.key,
      hint: 'leave first tongue out',
      parts,
    });
  return undefined;
}

/** What the author should know of courses that do fill the span. */
function remark(context: Context, { facts, lay, gap }: Laid, fill: Fill): void {
  const { numbers } = context.edition;
  const { key } = facts.source;
  if (fill.adjusted)
    context.report({
      id: 'lay.within-gap',
      severity: 'note',
      origin: lay.origin,
      message:
        fill.ends === 'shared'
          ? `beside one whole course of "${key}" less than a gap is left, so two courses share the span`
          : `after the whole courses of "${key}" less than a gap is left, so the gaps are opened from ${figure(gap, numbers)} to ${figure(fill.gap, numbers)}`,
      hint: 'ends: shared keeps the gap and rips the first and last course alike',
      parts: [key],
    });
  const end = fill.covers[fill.covers.length - 1] as number;
  const full = Math.max(...fill.covers);
  const limit = sliverLimit(numbers.system);
  if (end < limit && fill.covers.length > 1 && end < full - 0.01)
    context.report({
      id: 'lay.sliver',
      severity: 'warning',
      origin: lay.origin,
      message: `expected a last course of "${key}" at least ${figure(limit, numbers)} wide, found ${figure(end, numbers)}`,
      hint:
        lay.ends === 'last'
          ? 'ends: shared rips the first and last course alike'
          : 'change the span or the gap a little',
      parts: [key],
      source: 'common practice, no source',
    });
}
