/** The cut list of the sample bench and of parts laid in courses; what is expected is worked by hand in the comments. */
import { describe, expect, it } from 'vitest';
import { cutList, letterOf } from '../../src/cutting/cut-list.ts';
import type { Copy, Part, Plan, Rip } from '../../src/model/types.ts';
import { lineText } from '../../src/text.ts';
import { inches, mm } from '../../src/units.ts';
import { boxPart, samplePlan, stock1x6, stock2x4 } from '../support/sample.ts';

describe('letters', () => {
  it('go without I and O, then double', () => {
    const letters = Array.from({ length: 50 }, (_, index) => letterOf(index));
    expect(letters.slice(0, 24).join('')).toBe('ABCDEFGHJKLMNPQRSTUVWXYZ');
    expect(letters.slice(24, 27)).toEqual(['AA', 'AB', 'AC']);
    expect(letters[48]).toBe('BA');
    expect(new Set(letters).size).toBe(50);
  });
});

/** Millimetres as inches, freed of what is lost in the arithmetic. */
const inchesOf = (length: number): number => Math.round((length / 25.4) * 1e6) / 1e6;

describe('the sample bench', () => {
  const list = cutList(samplePlan);

  it('has a row for boards that are cut alike', () => {
    expect(
      list.rows.map((row) => [row.letter, row.part, row.quantity, inchesOf(row.length), inchesOf(row.width)]),
    ).toEqual([
      ['A', 'leg', 4, 17.25, 3.5],
      ['B', 'apron', 2, 33, 3.5],
      ['C', 'top-board', 2, 40, 5.5],
      ['D', 'top-board', 1, 40, 3.5],
    ]);
  });

  it('has a letter for each copy', () => {
    const copies = samplePlan.parts.flatMap((part) => part.copies.map((copy) => copy.id));
    expect(Object.keys(list.letters).sort()).toEqual([...copies].sort());
    for (const row of list.rows) for (const id of row.copies) expect(list.letters[id]).toBe(row.letter);
  });

  /*
   * 2x4: 2 × 4/12 × 17.25/12 × 4 = 3.8333; 1x4: 1 × 4/12 × 33/12 × 2 = 1.8333; 1x6: 1 × 6/12 × 40/12 × 2 = 3.3333 and of the ripped
   * one 3.5/5.5 of 1.6667 = 1.0606. In all 10.0606.
   */
  it('measures in board feet by nominal size', () => {
    expect(list.volume.unit).toBe('board feet');
    expect(list.volume.value).toBeCloseTo(10.0606, 4);
  });

  /*
   * In cubic inches: legs 4 × 17.25 × 3.5 × 1.5 = 362.25; aprons 2 × 33 × 3.5 × 0.75 = 173.25; tops 2 × 40 × 5.5 × 0.75 = 330 and
   * 40 × 3.5 × 0.75 = 105: 970.5 in³ = 0.01590365 m³; at 450 kg/m³ 7.15664 kg.
   */
  it('weighs by the species', () => {
    expect(list.weight).toBeCloseTo(7.15664, 5);
  });

  it('measures real cubic metres in a metric edition', () => {
    const metric = cutList({
      ...samplePlan,
      edition: { ...samplePlan.edition, numbers: { system: 'mm', denominator: 16 } },
    });
    expect(metric.volume.unit).toBe('m³');
    expect(metric.volume.value).toBeCloseTo(0.01590365, 8);
  });

  it('gives no weight where a density is missing', () => {
    const { density: _, ...species } = samplePlan.stockList.species[0] as {
      density?: number;
      key: string;
      name: string;
    };
    const list = cutList({ ...samplePlan, stockList: { ...samplePlan.stockList, species: [species] } });
    expect(list.weight).toBeUndefined();
  });
});

/** A part in courses: each board 40 in long, with the widths and rips given. */
function courses(
  widths: readonly (readonly [width: number, reason?: Rip['reason']])[],
  ends: 'shared' | 'last',
  more: Partial<Part> = {},
): Plan {
  const plain = boxPart(
    'top-board',
    stock1x6,
    'across',
    'top',
    widths.map(([width], index) => [
      [0, 6 * index, 0],
      [40, 6 * index + width, 0.75],
    ]),
  );
  const copies = plain.copies.map((copy, index): Copy => {
    const reason = widths[index]?.[1];
    const { rip: _, ...unripped } = copy;
    return reason === undefined
      ? unripped
      : { ...unripped, course: index + 1, rip: { width: copy.cut.width, reason } };
  });
  const part: Part = {
    ...plain,
    copies,
    courses: {
      count: copies.length,
      gap: mm(0),
      full: stock1x6.cover,
      first: copies[0]?.cut.width ?? mm(0),
      last: copies.at(-1)?.cut.width ?? mm(0),
      ends,
    },
    ...more,
  };
  return { ...samplePlan, parts: [part] };
}

const shown = (plan: Plan) =>
  cutList(plan).rows.map((row) => [row.name, row.quantity, ...row.notes.map((note) => lineText(note))]);

describe('courses', () => {
  it('name the last one and say what to do', () => {
    expect(shown(courses([[5.5], [5.5], [5.5], [3.25, 'last course']], 'last'))).toEqual([
      ['Top board', 3],
      ['Last top board', 1, 'rip to 3 1/4″', 'measure first'],
    ]);
  });

  it('put shared ends into one row', () => {
    expect(shown(courses([[4.5, 'first course'], [5.5], [5.5], [4.5, 'last course']], 'shared'))).toEqual([
      ['Top board', 2],
      ['End top board', 2, 'rip to 4 1/2″'],
    ]);
  });

  it('name the board whose tongue is trimmed', () => {
    expect(
      shown(
        courses([[5.125, 'tongue'], [5.5], [2, 'last course']], 'last', {
          name: 'T-board',
          note: 'best face out',
        }),
      ),
    ).toEqual([
      ['First T-board', 1, 'trim the tongue', 'best face out'],
      ['T-board', 1, 'best face out'],
      ['Last T-board', 1, 'rip to 2″', 'measure first', 'best face out'],
    ]);
  });

  it('all full need one row', () => {
    expect(shown(courses([[5.5], [5.5]], 'last'))).toEqual([['Top board', 2]]);
  });
});

describe('notes', () => {
  it('say what is ripped, and what is taken from the workpiece', () => {
    const leg = boxPart('leg', stock2x4, 'up', 'front', [
      [
        [0, 0, 0],
        [1.5, 1.5, 30],
      ],
    ]);
    expect(shown({ ...samplePlan, parts: [{ ...leg, fit: 'measured' }] })).toEqual([
      ['Leg', 1, 'rip to 1 1/2″', 'measure first'],
    ]);
  });

  it('two sizes apart by less than a millionth of a millimetre are one, by more are two', () => {
    const part = samplePlan.parts[0] as Part;
    const stretched = (by: number): Part => ({
      ...part,
      copies: part.copies.map((copy, index) =>
        index === 0 ? { ...copy, cut: { ...copy.cut, length: mm(copy.cut.length + by) } } : copy,
      ),
    });
    const rows = (by: number): number => cutList({ ...samplePlan, parts: [stretched(by)] }).rows.length;
    expect(rows(1e-9)).toBe(1);
    expect(rows(0.01)).toBe(2);
    expect(rows(inches(1 / 16))).toBe(2);
  });
});
