/** Gives the formulas of a part's shaping operations and of its glue-up their values. */
import { fault, type Origin } from '../diagnostics.ts';
import type { PlaceSource, ShapeSource } from '../read/shape-types.ts';
import type { Direction, Written } from '../read/types.ts';
import { INCH } from '../units.ts';
import { type Context, numberOf } from './context.ts';
import { FACES_OF } from './directions.ts';
import type { Wanted } from './evaluate.ts';
import type { PartFacts } from './facts.ts';
import { sizeOf } from './placement.ts';
import type { Panel, PlaceValues, ResolvedShape } from './pose-types.ts';
import { figure } from './quantities.ts';

/** Most boards in one panel. */
const MOST_BOARDS = 40;

const wantedOf = (key: string): Exclude<Wanted, 'any'> =>
  key === 'repeated'
    ? 'count'
    : key === 'angle' || key === 'mitre' || key === 'bevel' || key.endsWith('.angle')
      ? 'angle'
      : 'length';

/** Most cuts in one row. */
const MOST_IN_ROW = 200;

/** The operations of a part, a row of housings or notches as so many of them; undefined where one of their formulas has no value. */
export function shapesOf(context: Context, { source }: PartFacts): readonly ResolvedShape[] | undefined {
  const shapes = (source.shape ?? []).map((shape, index) => {
    const one = shapeOf(context, source.key, shape, index);
    return one && inRow(context, source.key, one);
  });
  return shapes.includes(undefined) ? undefined : (shapes as (readonly ResolvedShape[])[]).flat();
}

/**
 * A row of cuts with flat sides: the same operation over and over, its faces along the row moved on by the spacing each time.
 * Holes and slots keep theirs, which the drawings dimension as a row. Undefined after a report.
 */
function inRow(context: Context, key: string, shape: ResolvedShape): readonly ResolvedShape[] | undefined {
  const { source, values, places } = shape;
  const along = source.words.along?.[0];
  const held = source.kind === 'notch' ? 'box' : 'at';
  if (!['notch', 'housing', 'groove'].includes(source.kind) || !along) return [shape];
  const faces = FACES_OF[along.text as Direction];
  const given = places[held] ?? {};
  const { repeated = 1, spacing = 0 } = values;
  const bad = (at: Origin | undefined, message: Parameters<typeof fault>[2]) => {
    context.report(fault('shape.row', at ?? along.origin, { ...message, parts: [key] }));
    return undefined;
  };
  if (!faces.every((face) => given[face] !== undefined))
    return bad(along.origin, {
      expected: `the place of the first ${source.called} of the row ${along.text}: its ${faces.join(' and ')}`,
      found: faces.find((face) => given[face] !== undefined) ?? 'neither',
      hint: `${held === 'at' ? 'at: ' : `${source.called}: `}{ ${faces.map((face) => `${face}: …`).join(', ')} }`,
    });
  if (repeated > MOST_IN_ROW)
    return bad(source.values.repeated?.origin, {
      expected: `at most ${MOST_IN_ROW} in a row`,
      found: String(repeated),
    });
  const width = (given[faces[1]] as number) - (given[faces[0]] as number);
  if (repeated > 1 && Math.abs(spacing) < width)
    return bad(source.values.spacing?.origin, {
      expected: `a spacing of ${figure(width, context.edition.numbers)} or more, from one ${source.called} to the next`,
      found: figure(spacing, context.edition.numbers),
      hint: `spacing goes from the start of one to the start of the next`,
    });
  return Array.from({ length: repeated }, (_, step) => ({
    ...shape,
    places: {
      ...places,
      [held]: {
        ...given,
        ...Object.fromEntries(faces.map((face) => [face, (given[face] as number) + step * spacing])),
      },
    },
  }));
}

function shapeOf(
  context: Context,
  key: string,
  source: ShapeSource,
  index: number,
): ResolvedShape | undefined {
  const name = `${source.called} ${index + 1} of ${key}`;
  let sound = true;
  const number = (what: string, written: Written, wanted: Exclude<Wanted, 'any'>): number => {
    const value = numberOf(context, `the ${what} of ${name}`, written, wanted);
    if (value === undefined) sound = false;
    return value ?? 0;
  };
  const place = (what: string, from: PlaceSource, wanted: 'length' | 'angle' = 'length'): PlaceValues =>
    Object.fromEntries(
      Object.entries(from.values).flatMap(([word, written]) =>
        written ? [[word, number(`${what} ${word}`, written, wanted)] as const] : [],
      ),
    );
  const values = Object.fromEntries(
    Object.entries(source.values).map(([word, written]) => [word, number(word, written, wantedOf(word))]),
  );
  const places = Object.fromEntries(
    Object.entries(source.places).map(([word, from]) => [
      word,
      place(word, from, word === 'lean' ? 'angle' : 'length'),
    ]),
  );
  const path = source.path?.map((step, at) => ({
    to: place(`step ${at + 1}`, step.to),
    ...(step.through ? { through: place(`through ${at + 1}`, step.through) } : {}),
    ...(step.radius ? { radius: number(`radius ${at + 1}`, step.radius, 'length') } : {}),
  }));
  return sound ? { source, values, places, ...(path === undefined ? {} : { path }) } : undefined;
}

/**
 * The boards of a glued-up panel. Equal boards are all ripped alike, as few as cover the width; boards as they come keep their
 * width, and the last is ripped. Common practice, no source; so is the allowance of an inch or 25 mm.
 */
export function panelOf(context: Context, facts: PartFacts): Panel | undefined {
  const { source, stock } = facts;
  const { glueUp, key } = source;
  if (!glueUp || !stock) return undefined;
  const width = sizeOf(context, facts, facts.widthAlong, source.origin);
  const usual = context.edition.numbers.system === 'inch' ? INCH : 25;
  const allowance = glueUp.allowance
    ? numberOf(context, `${key}.allowance`, glueUp.allowance, 'length')
    : usual;
  if (width === undefined || allowance === undefined || !(width > 0)) return undefined;
  const cover = stock.cover;
  const count = Math.ceil((width - 0.01) / cover);
  const { numbers } = context.edition;
  if (count < 2 || count > MOST_BOARDS) {
    context.report(
      fault('panel.boards', glueUp.origin, {
        expected: count < 2 ? 'a panel wider than one board' : `a panel of at most ${MOST_BOARDS} boards`,
        found:
          count < 2
            ? `${figure(width, numbers)}, which ${stock.key} is wide enough for`
            : `${figure(width, numbers)} of boards ${figure(cover, numbers)} wide`,
        hint: count < 2 ? 'leave "glue up" out' : 'take wider stock',
        parts: [key],
      }),
    );
    return undefined;
  }
  if (allowance < 0) {
    context.report(
      fault('panel.allowance', glueUp.allowance?.origin ?? glueUp.origin, {
        expected: 'an allowance of 0 or more',
        found: figure(allowance, numbers),
        parts: [key],
      }),
    );
    return undefined;
  }
  const widths =
    glueUp.boards === 'equal'
      ? Array<number>(count).fill(width / count)
      : [...Array<number>(count - 1).fill(cover), width - (count - 1) * cover];
  return { boards: glueUp.boards, widths, allowance };
}
