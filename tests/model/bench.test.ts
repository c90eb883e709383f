/** A bench in both editions, worked by hand: the parts rest on one another, so a board's thickness moves what rests on it. */
import { describe, expect, it } from 'vitest';
import { box, built, inch, inchBox, metric, part, said } from '../resolve/shop.ts';

const bench = {
  sizes: `
outline: { width: 48 in | 1200 mm, depth: 22 in | 560 mm, height: 36 in | 900 mm }
top-overhang: 1 in | 25 mm
`,
  parts: `
leg:
  stock: 2x4
  runs: up
  wide face: front
  at:
    bottom: floor
    top: top-board.bottom
    left: left + top-overhang
    front: front + top-overhang
  copies: mirrored left-right and front-back

apron:
  stock: 1x4
  runs: across
  wide face: front
  between: leg
  at: { top: leg.top, front: leg.front }
  copies: mirrored front-back

end-apron:
  stock: 1x4
  runs: deep
  wide face: left
  between: leg
  at: { top: leg.top, left: leg.left }
  copies: mirrored left-right

top-board:
  stock: 1x6
  runs: across
  lay: front to back
  from: front
  to: back
  gap: 1/4 in | 6 mm
  ends: shared
  at: { left: left, right: right, top: top }
`,
};

/** To 9 decimals, so that the last bit of a double doesn't count. */
const inInches = (length: number): number => Number((length / 25.4).toFixed(9));

describe('the bench of the language guide, in inches', () => {
  const plan = built(bench, inch);

  it('stands its legs under the top: 36 less 3/4', () => {
    // 2x4 is 1 1/2 × 3 1/2 (PS 20), its wide face to the front: 3 1/2 across from 1, 1 1/2 deep from 1.
    expect(part(plan, 'leg').copies.map((copy) => inchBox(copy))).toEqual([
      [
        [1, 4.5],
        [1, 2.5],
        [0, 35.25],
      ],
      // Mirrored left to right: 48 − 4.5 and 48 − 1; then both of them front to back: 22 − 2.5 and 22 − 1.
      [
        [43.5, 47],
        [1, 2.5],
        [0, 35.25],
      ],
      [
        [1, 4.5],
        [19.5, 21],
        [0, 35.25],
      ],
      [
        [43.5, 47],
        [19.5, 21],
        [0, 35.25],
      ],
    ]);
    expect(part(plan, 'leg').copies.map((copy) => copy.id)).toEqual(['leg.1', 'leg.2', 'leg.3', 'leg.4']);
    expect(part(plan, 'leg').copies[0]?.cut).toMatchObject({ thickness: 38.1, width: 88.9 });
    expect(inInches(part(plan, 'leg').copies[0]?.cut.length ?? 0)).toBe(35.25);
  });

  it('fits the aprons between them: 43 1/2 less 4 1/2 is 39; 19 1/2 less 2 1/2 is 17', () => {
    expect(part(plan, 'apron').copies.map((copy) => inchBox(copy))).toEqual([
      [
        [4.5, 43.5],
        [1, 1.75],
        [31.75, 35.25],
      ],
      [
        [4.5, 43.5],
        [20.25, 21],
        [31.75, 35.25],
      ],
    ]);
    expect(inchBox(part(plan, 'end-apron').copies[0])).toEqual([
      [1, 1.75],
      [2.5, 19.5],
      [31.75, 35.25],
    ]);
  });

  it('lays four boards: three cover 17 with their gaps, so (22 − 3/4 − 11) / 2 = 5 1/8 at each end', () => {
    // 4 × 5 1/2 + 3 × 1/4 = 22 3/4, which is the first to reach 22.
    expect(part(plan, 'top-board').copies.map((copy) => inchBox(copy)[1])).toEqual([
      [0, 5.125],
      [5.375, 10.875],
      [11.125, 16.625],
      [16.875, 22],
    ]);
    expect(part(plan, 'top-board').copies.map((copy) => copy.rip?.reason)).toEqual([
      'first course',
      undefined,
      undefined,
      'last course',
    ]);
    expect(part(plan, 'top-board').copies.map((copy) => copy.course)).toEqual([1, 2, 3, 4]);
    expect(part(plan, 'top-board').courses).toMatchObject({ count: 4, ends: 'shared', gap: 6.35 });
    expect(part(plan, 'top-board').wideFace).toBe('top');
  });
});

describe('the same bench in millimetres', () => {
  const plan = built(bench, metric);

  it('takes metric boards, and everything follows', () => {
    // 45 × 95 legs, 18 boards: legs 900 − 18 = 882 tall; aprons 1200 − 2 × (25 + 95) = 960 long.
    expect(box(part(plan, 'leg').copies[3])).toEqual([
      [1080, 1175],
      [490, 535],
      [0, 882],
    ]);
    expect(box(part(plan, 'apron').copies[0])).toEqual([
      [120, 1080],
      [25, 43],
      [787, 882],
    ]);
    // Ends: 560 − 2 × (25 + 45) = 420
    expect(part(plan, 'end-apron').copies[0]?.cut.length).toBe(420);
    // 4 × 145 + 3 × 6 = 598 is the first to reach 560: (560 − 18 − 290) / 2 = 126
    expect(part(plan, 'top-board').copies.map((copy) => copy.cut.width)).toEqual([126, 145, 145, 126]);
  });

  it('moves every part that rests on a board when its thickness changes', () => {
    const thicker = built({ ...bench, parts: bench.parts.replace('stock: 1x6', 'stock: 2x4') }, metric);
    // A top of 45 in place of 18: legs and aprons come down by 27.
    expect(box(part(thicker, 'leg').copies[0])[2]).toEqual([0, 855]);
    expect(box(part(thicker, 'apron').copies[0])[2]).toEqual([760, 855]);
    expect(box(part(thicker, 'end-apron').copies[1])[2]).toEqual([760, 855]);
  });
});

describe('placing', () => {
  it('lets the width follow from both faces, and calls it a rip', () => {
    const plan = built({
      parts:
        'rail: { stock: 1x6, runs: across, wide face: front, at: { left: left, right: right, front: front, top: top, bottom: top - 4 in } }',
    });
    const [copy] = part(plan, 'rail').copies;
    expect(inInches(copy?.cut.width ?? 0)).toBe(4);
    expect(copy?.rip).toEqual({ width: copy?.cut.width, reason: 'part' });
  });

  it('stands boards on edge where the plan doesn’t say, or where both faces of a direction are given', () => {
    const plan = built({
      parts: `
rail: { stock: 1x4, runs: across, at: { left: left, right: right, front: front, top: top } }
side: { stock: 1x4, runs: deep, at: { front: front, back: back, left: left, top: top } }
post: { stock: 1x4, runs: up, at: { bottom: floor, top: top, left: left, front: front } }
shelf: { stock: 1x6, runs: across, at: { left: left, right: right, front: front, back: front + 5 in, top: top } }
`,
    });
    // 40 × 20 × 30 in the outline; 1x4 is 3/4 × 3 1/2
    expect(inchBox(part(plan, 'rail').copies[0])).toEqual([
      [0, 40],
      [0, 0.75],
      [26.5, 30],
    ]);
    expect(inchBox(part(plan, 'side').copies[0])).toEqual([
      [0, 0.75],
      [0, 20],
      [26.5, 30],
    ]);
    expect(inchBox(part(plan, 'post').copies[0])).toEqual([
      [0, 3.5],
      [0, 0.75],
      [0, 30],
    ]);
    expect(inchBox(part(plan, 'shelf').copies[0])).toEqual([
      [0, 40],
      [0, 5],
      [29.25, 30],
    ]);
    expect(part(plan, 'shelf').wideFace).toBe('top');
  });

  it('repeats by spacing, to a place, and through mirrors', () => {
    const at = 'runs: up, wide face: front, at: { bottom: floor, top: top, left: left, front: front }';
    const plan = built({
      parts: `
a: { stock: 1x4, ${at}, copies: { repeated: 3, along: across, spacing: 10 in } }
b: { stock: 1x4, ${at}, copies: { repeated: 4, along: across, to: right } }
c: { stock: 1x4, ${at}, copies: [mirrored front-back, { repeated: 2, along: across, spacing: c.width + 1/2 in }] }
d: { stock: 1x4, runs: up, wide face: front, at: { bottom: floor, top: top, right: right, front: front }, copies: { repeated: 3, along: across, to: left + 10 in } }
`,
    });
    const lefts = (key: string) => part(plan, key).copies.map((copy) => inchBox(copy)[0]?.[0]);
    expect(lefts('a')).toEqual([0, 10, 20]);
    // The last one ends at 40: (40 − 3 1/2) / 3 = 12 1/6 apart
    expect(lefts('b').map((left) => Number((left as number).toFixed(4)))).toEqual([
      0, 12.1667, 24.3333, 36.5,
    ]);
    expect(lefts('c')).toEqual([0, 0, 4, 4]);
    expect(part(plan, 'c').copies.map((copy) => inchBox(copy)[1]?.[0])).toEqual([0, 19.25, 0, 19.25]);
    // Towards the left: from 36 1/2, the last one's left face at 10: 13 1/4 apart
    expect(lefts('d')).toEqual([36.5, 23.25, 10]);
  });

  it('fits between repeated copies and between two parts in either order', () => {
    const plan = built({
      parts: `
post: { stock: 2x4, runs: up, wide face: front, at: { bottom: floor, top: top, left: left, front: front }, copies: { repeated: 3, along: across, to: right } }
end: { stock: 2x4, runs: up, wide face: front, at: { bottom: floor, top: top, right: right, back: back } }
rail: { stock: 1x4, runs: across, between: post, at: { top: top, front: front } }
long: { stock: 1x4, runs: across, between: [end, post], at: { bottom: floor, front: front } }
`,
    });
    // Posts at 0, 18 1/4 and 36 1/2: between the first two from 3 1/2 to 18 1/4
    expect(inchBox(part(plan, 'rail').copies[0])[0]).toEqual([3.5, 18.25]);
    expect(inchBox(part(plan, 'long').copies[0])[0]).toEqual([3.5, 36.5]);
  });

  it('counts boards, and gives courses to formulas', () => {
    const plan = built({
      sizes:
        'boards: slat.count\ncourses: slat.courses\nend: slat.first + slat.last\nspace: slat.gap * 2\nleft-over: slat.back - slat.front',
      parts:
        'slat: { stock: 1x4, runs: across, lay: front to back, from: front, to: front + 10 in, gap: 1/2 in, ends: shared, at: { left: left, right: right, top: top }, copies: mirrored front-back }',
    });
    // 3 courses: (10 − 1 − 3.5) / 2 = 2 3/4 at each end; twice 3 boards.
    expect(
      plan.sizes.map(({ name, quantity }) => [
        name,
        quantity.kind === 'length' ? Number((quantity.value / 25.4).toFixed(9)) : quantity.value,
      ]),
    ).toEqual([
      ['boards', 6],
      ['courses', 3],
      ['end', 5.5],
      ['space', 1],
      ['left-over', 10],
    ]);
    expect(part(plan, 'slat').copies.map((copy) => copy.course)).toEqual([1, 2, 3, 1, 2, 3]);
    expect(part(plan, 'slat').copies.map((copy) => inchBox(copy)[1]?.[0])).toEqual([
      0, 3.25, 7.25, 17.25, 13.25, 10,
    ]);
  });

  it('lays tongue-and-groove courses down from the top, the first tongue trimmed', () => {
    const plan = built({
      parts:
        'back-board: { stock: 1x6 T&G, runs: across, lay: top to bottom, from: top, to: top - 14 in, first tongue: trimmed, ends: last, at: { left: left, right: right, back: back } }',
    });
    // T1.6 of the check values: 5 3/8 over all, 5 1/8 face. 14 − 2 × 5 1/8 = 3 3/4, and 4 with its tongue.
    const { copies } = part(plan, 'back-board');
    expect(copies.map((copy) => inchBox(copy)[2])).toEqual([
      [24.875, 30],
      [19.75, 24.875],
      [16, 19.75],
    ]);
    expect(copies.map((copy) => inInches(copy.cut.width))).toEqual([5.125, 5.375, 4]);
    expect(copies.map((copy) => copy.rip?.reason)).toEqual(['tongue', undefined, 'last course']);
    expect(copies.map((copy) => inInches(copy.size.width))).toEqual([5.125, 5.125, 3.75]);
  });

  it('rips legs square, so that the rip may name the part’s own thickness', () => {
    const plan = built({
      parts:
        'leg: { stock: 2x4, rip: leg.thickness, runs: up, wide face: front, at: { bottom: floor, top: top, left: left, front: front } }',
    });
    expect(part(plan, 'leg').copies[0]?.cut).toMatchObject({ thickness: 38.1, width: 38.1 });
  });

  it('answers formulas of the text with the names of the plan', () => {
    const plan = built(bench, metric);
    const origin = { file: 'plan.md', line: 90, column: 12 };
    // 882 tall, less a hand's breadth of 4 in = 101.6, rounded to 102
    const answer = plan.evaluate('leg.length - 4 in', origin);
    expect(answer.quantity).toEqual({ kind: 'length', value: 780 });
    expect(answer.roundings).toEqual([
      { origin: { ...origin, column: 25 }, written: '4 in', exact: 101.6, rounded: 102 },
    ]);
    expect(plan.evaluate('leg.count', origin).quantity).toEqual({ kind: 'number', value: 4 });
    const wrong = plan.evaluate('leg.length - lag.width', origin);
    expect(wrong.quantity).toBeUndefined();
    expect(wrong.problem).toMatchObject({
      id: 'name.unknown',
      origin: { ...origin, column: 25 },
      edition: 'metric',
    });
    expect(plan.evaluate('3 +', origin).problem).toMatchObject({
      id: 'formula.value',
      origin: { ...origin, column: 15 },
    });
  });
});

describe('long chains', () => {
  const chain = (length: number, step: (index: number) => string): string =>
    Array.from({ length }, (_, index) => step(index)).join('\n');

  it('are followed in either order', () => {
    const plan = built({
      sizes: `${chain(1000, (index) => `s${index + 1}: s${index} + 1`)}\ns0: 0`,
      parts: 'rail: { stock: 1x4, runs: across, at: { left: left, right: right, front: front, top: top } }',
    });
    expect(plan.sizes[999]?.quantity.value).toBe(1000);
  });

  it.each([
    ['long', (index: number) => `s${index + 1}${' + 1'.repeat(80)}`],
    ['deep', (index: number) => `${'('.repeat(38)}s${index + 1}${')'.repeat(38)}`],
    ['full of functions', (index: number) => `${'max(1, -'.repeat(18)}s${index + 1}${')'.repeat(18)}`],
  ])('of formulas that are %s are refused beyond what the stack holds, once', (_, step) => {
    const lines = said({
      sizes: `${chain(550, (index) => `s${index}: ${step(index)}`)}\ns550: 0`,
      parts: 'rail: { stock: 1x4, runs: across, at: { left: left, right: right, front: front, top: top } }',
    });
    expect(lines).toHaveLength(1);
    expect(lines[0]).toMatch(
      /formula\.chain: expected fewer sizes that rest on one another, found a chain of more than \d+$/u,
    );
  });

  it('of parts that stand on one another hold a tall stack', () => {
    const boards = 100;
    const plan = built({
      parts: chain(boards, (index) => {
        const on = index === boards - 1 ? 'floor' : `b${index + 1}.top`;
        return `b${index}: { stock: 1x4, runs: across, wide face: top, at: { left: left, right: right, front: front, bottom: ${on} } }`;
      }),
    });
    // The first rests on 99 boards of 3/4 in
    expect(inchBox(part(plan, 'b0').copies[0])[2]).toEqual([74.25, 75]);
  });
});
