/** Works a part out: its place, its board, its copies and courses, and the checks that need its figures. */
import { fault } from '../diagnostics.ts';
import type { Direction } from '../read/types.ts';
import { mm } from '../units.ts';
import type { Context } from './context.ts';
import { numberOf } from './context.ts';
import { DIRECTIONS, FACES_OF } from './directions.ts';
import { checkStatements, type PartFacts } from './facts.ts';
import { housedEnds } from './housings.ts';
import { layOf } from './lay.ts';
import { boardsIn } from './lookup.ts';
import { checkBetween, countOf, sizeOf, spanOf, stepOf } from './placement.ts';
import { isPosed, poseOf } from './pose.ts';
import { figure } from './quantities.ts';
import { panelOf, shapesOf } from './shapes.ts';
import type { CopyRule, ResolvedPart, Span } from './types.ts';

/** Most boards of one part. */
const MOST_BOARDS = 1000;
const SAME = 0.01;

/** Resolves one part; undefined where any of it is unknown, after a report. All its formulas are evaluated either way. */
export function resolvePart(
  context: Context,
  facts: PartFacts,
  species: string | undefined,
): ResolvedPart | undefined {
  const { source, stock, broken } = facts;
  const { key, origin } = source;
  checkBetween(context, facts);
  checkSheet(context, facts);
  checkBanded(context, facts);
  checkStatements(facts, {
    edition: context.edition,
    report: context.report,
    size: (part, direction, at) => sizeOf(context, part, direction, at),
    lengthOf: (written, name) => numberOf(context, name, written, 'length'),
  });
  const spans = DIRECTIONS.map(
    (direction) => [direction, spanOf(context, facts, direction, origin)] as const,
  );
  const width = sizeOf(context, facts, facts.widthAlong, origin);
  if (source.length) numberOf(context, `${key}.length`, source.length, 'length');
  const posed = !broken && isPosed(context, facts);
  const pose = posed ? poseOf(context, facts, origin) : undefined;
  const shape = shapesOf(context, facts);
  const panel = source.glueUp && !broken ? panelOf(context, facts) : undefined;
  const housed = housedEnds(context, facts);
  const copies = source.copies.map((_, index) => copyRule(context, facts, index));
  const courses = layOf(context, facts, origin);
  const sound = broken || !stock ? false : checkSizes(context, facts, new Map(spans), width);
  const count = copies.includes(undefined) ? undefined : boardsIn(context, facts, origin);
  if (count !== undefined && count > MOST_BOARDS)
    context.report(
      fault('copies.too-many', source.copies.at(-1)?.origin ?? origin, {
        expected: `at most ${MOST_BOARDS} boards of "${key}"`,
        found: String(count),
        parts: [key],
      }),
    );
  const missing = spans.some(([, span]) => span === undefined) || width === undefined || count === undefined;
  if (!shape || !housed || (posed && !pose) || (source.glueUp && !panel)) return undefined;
  if (missing || !sound || !stock || species === undefined || (source.lay && !courses)) return undefined;
  const ripped = !panel && !stock.sheets && width < stock.cover - SAME;
  return {
    source,
    stock,
    species,
    runs: source.runs.value,
    wideFace: facts.wideFace,
    widthAlong: facts.widthAlong,
    spans: Object.fromEntries(spans) as Record<Direction, Span>,
    width: mm(width),
    // A rip along a tongue-and-groove board takes its tongue off; a rough edge is made straight before the part is measured.
    cutWidth: mm(ripped || panel || stock.sheets || stock.rough ? width : stock.width),
    ripped,
    copies: copies as readonly CopyRule[],
    ...(courses ? { courses } : {}),
    ...(pose ? { pose } : {}),
    ...(panel ? { panel } : {}),
    shape,
    housed,
    count,
  };
}

/** A part from a sheet needs a size in both directions, and lies as it is; only such a part may turn. */
function checkSheet(context: Context, facts: PartFacts): void {
  const { source, stock, widthAlong, broken } = facts;
  if (!stock || broken) return;
  const parts = [source.key];
  const say = (at: typeof source.origin, expected: string, found: string, hint: string): void =>
    context.report(fault('part.sheet', at, { expected, found, hint, parts }));
  if (!stock.sheets) {
    if (source.turn)
      say(
        source.stock.origin,
        'a sheet, since "turn: yes" is for parts from sheets',
        `${stock.key}, a board`,
        'leave "turn" out',
      );
    return;
  }
  if (source.fromOffcut)
    say(
      source.fromOffcut,
      'a board, since "from: offcut" is for boards',
      `${stock.key}, a sheet`,
      'leave it out: all parts of a sheet are laid out together, and small ones fill what large ones leave',
    );
  const [low, high] = FACES_OF[widthAlong];
  if (source.lay)
    say(
      source.lay.origin,
      'a part of one piece',
      `courses from ${stock.key}, a sheet`,
      'leave "lay" out and give both faces',
    );
  else if (source.glueUp)
    say(source.stock.origin, 'boards to glue up', `${stock.key}, a sheet`, 'leave "glue up" out');
  else if (!source.rip && !(source.at[low] && source.at[high]))
    say(
      source.stock.origin,
      `a width of "${source.key}", since ${stock.key} is a sheet: both ${low} and ${high}, or "rip"`,
      source.at[low] ? `${low} alone` : source.at[high] ? `${high} alone` : 'neither',
      `at: { ${low}: …, ${high}: … }`,
    );
}

/** Banding covers the edges and ends of a sheet: boards have none to hide, and a wide face takes none. */
function checkBanded(context: Context, { source, stock, thickAlong, broken }: PartFacts): void {
  if (!source.banded || !stock || broken) return;
  const say = (at: typeof source.origin, expected: string, found: string, hint: string): void =>
    context.report(fault('part.banded', at, { expected, found, hint, parts: [source.key] }));
  const edges = DIRECTIONS.filter((one) => one !== thickAlong).flatMap((one) => FACES_OF[one]);
  const [first] = source.banded;
  if (!stock.sheets && first)
    say(
      first.origin,
      'a part from a sheet, whose edges banding covers',
      `${stock.key}, a board`,
      'leave "banded" out',
    );
  else
    for (const { value, origin } of source.banded)
      if (!edges.includes(value))
        say(
          origin,
          `an edge or an end of "${source.key}": ${edges.join(', ')}`,
          `${value}, a wide face`,
          `banded: ${edges[0]}`,
        );
}

function copyRule(context: Context, facts: PartFacts, index: number): CopyRule | undefined {
  const rule = facts.source.copies[index];
  if (rule?.kind !== 'repeated') return rule && { kind: 'mirrored', across: rule.across };
  const { origin } = rule;
  const count = countOf(context, facts, index, origin);
  if (rule.spacing && rule.to)
    context.report(
      fault('copies.spacing', rule.to.origin, {
        expected: '"spacing" or "to"',
        found: 'both',
        hint: 'leave one of the two out',
        parts: [facts.source.key],
      }),
    );
  else if (!rule.spacing && !rule.to)
    context.report(
      fault('copies.spacing', origin, {
        expected: '"spacing" or "to" for repeated copies',
        found: 'neither',
        hint: 'spacing: is from one copy to the same face of the next; to: is where the last one ends',
        parts: [facts.source.key],
      }),
    );
  const step = stepOf(context, facts, index, origin);
  if (count === undefined || step === undefined) return undefined;
  return { kind: 'repeated', along: rule.along, count, step };
}

/** Checks that a part has a size in each direction, and that its board is wide enough. */
function checkSizes(
  context: Context,
  facts: PartFacts,
  spans: ReadonlyMap<Direction, Span | undefined>,
  width: number | undefined,
): boolean {
  const { source, stock } = facts;
  const { key } = source;
  const { numbers } = context.edition;
  let sound = true;
  const runs = source.runs.value;
  const length = source.length ? numberOf(context, `${key}.length`, source.length, 'length') : undefined;
  const [low, high] = FACES_OF[runs];
  const span = spans.get(runs);
  const apart = length ?? (span && span.high - span.low);
  if (apart !== undefined && apart <= SAME) {
    sound = false;
    context.report(
      fault(
        'part.size',
        (source.length ?? source.between?.[0] ?? source.at[high] ?? source.at[low] ?? source).origin,
        {
          expected: `a length of "${key}" above 0`,
          found:
            length === undefined && span
              ? `${figure(apart, numbers)}, from ${low} at ${figure(span.low, numbers)} to ${high} at ${figure(span.high, numbers)}`
              : figure(apart, numbers),
          parts: [key],
        },
      ),
    );
  }
  if (width === undefined || !stock) return sound;
  const [near, far] = FACES_OF[facts.widthAlong];
  const at = (source.rip ?? source.at[far] ?? source.at[near] ?? source).origin;
  if (width <= SAME) {
    context.report(
      fault('part.size', at, {
        expected: `a width of "${key}" above 0`,
        found: figure(width, numbers),
        parts: [key],
      }),
    );
    return false;
  }
  if (width > stock.cover + SAME && !source.glueUp) {
    context.report(
      fault('part.too-wide', at, {
        expected: `a width of at most ${figure(stock.cover, numbers)}, as ${stock.key} is`,
        found: figure(width, numbers),
        hint: 'take wider stock, lay courses, or glue up a panel',
        parts: [key],
      }),
    );
    return false;
  }
  return sound;
}
