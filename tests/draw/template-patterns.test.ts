/**
 * Paper patterns of straight-sided boards: their lines against figures worked by hand from the cut's own definition, what is bored with its
 * cross and words, and which boards get one. A cut with mitre m and bevel b through the long corner takes off, so far across the width y and
 * through the thickness z from there, y tan m + z tan b / cos m of the length: the plane's normal is (cos b cos m, cos b sin m, sin b).
 */
import { beforeAll, describe, expect, it } from 'vitest';
import { Desk } from '../../src/draw/desk.ts';
import { loadSvg } from '../../src/draw/index.ts';
import { partSheets } from '../../src/draw/parts/part-rows.ts';
import { composePart, type PartDrawing } from '../../src/draw/parts/part-sheet.ts';
import { composeTemplates, tilesOf } from '../../src/draw/templates/template.ts';
import type { Drawing } from '../../src/draw/types.ts';
import type { Edition } from '../../src/read/types.ts';
import { built, inch, metric } from '../resolve/shop.ts';
import { overlaps } from './clear.ts';
import { demoWorks, repository } from './demo-work.ts';
import { type Drawn, readSvg, type Xy } from './read-svg.ts';
import { workOf } from './work.ts';

beforeAll(loadSvg);

const tan = (degrees: number): number => Math.tan((degrees * Math.PI) / 180);
const cos = (degrees: number): number => Math.cos((degrees * Math.PI) / 180);

/** A post 400 × 95 × 45 mm or 16 × 3-1/2 × 1-1/2 in, its wide face to the front; its right is the lower edge on the sheet. */
const post = (shape: string, more = '', length = '16 in | 400 mm'): string => `post:
  stock: 2x4
  runs: up
  wide face: front
  length: ${length}
  at: { bottom: floor, left: left, front: front }
${more}${shape === '' ? '' : `  shape:\n    - ${shape.replaceAll('\n', '\n    - ')}\n`}`;

function templates(parts: string, edition: Edition = metric): Drawing[] {
  const desk = new Desk(workOf(built({ parts }, edition)));
  return composeTemplates(desk).map((one) => desk.finish(one, 'sheet'));
}

function only(parts: string, edition: Edition = metric): { drawing: Drawing; drawn: Drawn } {
  const all = templates(parts, edition);
  expect(all).toHaveLength(1);
  const drawing = all[0] as Drawing;
  return { drawing, drawn: readSvg(drawing.svg) };
}

/** Lengths of the outline's strokes, longest first. */
const strokes = (drawn: Drawn, role = 'k-p'): number[] =>
  drawn.lines
    .filter((l) => l.role === role)
    .map((l) => Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]))
    .sort((a, b) => b - a);
const said = (drawn: Drawn): string[] => drawn.texts.map((text) => text.text.trim());
const close = (values: readonly number[]) => values.map((value) => expect.closeTo(value, 2));

describe('a pattern of sawn ends', () => {
  const COMPOUND = '{ compound: top, mitre: 10 deg, bevel: 5 deg, long: [left, back] }';

  it('has the lines of a compound cut on the wide face and on the edge folded out beside it', () => {
    const { drawing, drawn } = only(post(COMPOUND, '  template: whole\n'));
    // On the front, 45 in front of the long corner, the cut begins 45 tan 5° / cos 10° short; at the back edge of the side it is whole.
    const off = (45 * tan(5)) / cos(10);
    const fall = 95 * tan(10);
    // Its own line across the front: 95 wide, falling 95 tan 10°; across the edge: 45 wide, falling by what it is short.
    const lines = strokes(drawn);
    const ends = [Math.hypot(95, fall), Math.hypot(45, off)];
    for (const size of ends) expect(Math.min(...lines.map((l) => Math.abs(l - size)))).toBeLessThan(0.01);
    // The edge folded out is the right one, lower on the sheet, away from the long corner: along the fold the board is 400 - off - fall long.
    const fold = strokes(drawn, 'k-c');
    expect(Math.max(...fold)).toBeCloseTo(400 - off - fall, 2);
    expect(drawing.alt).toContain('an edge folded out');
    expect(said(drawn)).toContain('edge: fold the paper here');
    // What a bevel gauge is set to: 10° on the face; on the edge tan = tan 5° / cos 10°, 5.08°.
    expect(
      said(drawn)
        .filter((text) => text.endsWith('°'))
        .sort(),
    ).toEqual(['10°', '5.1°']);
    expect(drawing.scale).toBe('1 : 1');
  });

  it('shows of a board that is straight between its ends only those, with their own lengths', () => {
    const { drawing, drawn } = only(post(COMPOUND));
    // The cut reaches 45 tan 5° / cos 10° + 95 tan 10° = 20.75 in; with 25 beside it that is 354.25, and in whole steps of 5 it begins at 350.
    // The front ends 45 tan 5° / cos 10° before 400.
    expect(drawing.alt).toContain('where it is not straight: 1 place');
    const xs = drawn.lines.filter((l) => l.role === 'k-p').flatMap((l) => [l.a, l.b]);
    const reach = (k: 0 | 1): number => Math.max(...xs.map((p) => p[k])) - Math.min(...xs.map((p) => p[k]));
    const off = (45 * tan(5)) / cos(10);
    expect([reach(0), reach(1)].sort((a, b) => a - b)).toEqual(close([50 - off, 95 + 45]));
    expect(off + 95 * tan(10)).toBeCloseTo(20.75, 2);
    expect(tilesOf(drawing.width, drawing.height)).toEqual({ columns: 1, rows: 1 });
  });

  it('shows tapers whole, a taper of the wide face on the edge', () => {
    const { drawn } = only(post('{ taper: [right, back], end: bottom, from: 300 mm, leaves: 25 mm }'));
    // The right side falls 70 and the back 20 over 300: the front has the one, the edge beside its straight side the other.
    const lines = strokes(drawn);
    for (const size of [Math.hypot(300, 70), Math.hypot(300, 20)])
      expect(Math.min(...lines.map((l) => Math.abs(l - size)))).toBeLessThan(0.01);
    expect(Math.max(...strokes(drawn, 'k-c'))).toBeCloseTo(400, 2);
  });

  it('takes notches out, and dashes what is cut in to a depth', () => {
    const { drawn } = only(
      post(
        '{ notch: { left: left, right: left + 30 mm, bottom: floor, top: 60 mm } }\n{ housing: front, at: { bottom: 300 mm, top: 320 mm }, depth: 10 mm }',
        '  template: whole\n',
      ),
    );
    // Round an L, 400 + 95 + 340 + 30 + 60 + 65, its 400 the fold; and round the edge, 400 + 45 + 45, where the housing comes out 20 wide
    // and 10 deep.
    expect(strokes(drawn)).toEqual(close([400, 340, 95, 65, 60, 45, 45, 30, 20, 10, 10]));
    expect(strokes(drawn, 'k-c')).toEqual(close([400]));
    expect(strokes(drawn, 'k-h')).toEqual(close([95, 95, 20, 20]));
    expect(said(drawn)).toContain('housing 10 mm deep');
  });

  it('is that of the other hand for the other hand', () => {
    const parts = post(
      '{ taper: [left], end: bottom, leaves: 40 mm }\n{ hole: front, at: { up: 300 mm, across: left + 20 mm }, diameter: 10 mm, depth: 20 mm }',
      '  copies: mirrored left-right\n',
    );
    const work = workOf(built({ parts }, metric));
    const [one, other] = (['post.1', 'post.2'] as const).map((id, i) => {
      const rows = work.cutList.rows.map((row) => ({
        ...row,
        quantity: 1,
        letter: 'AB'[i] as string,
        copies: [id],
      }));
      const desk = new Desk({ ...work, cutList: { ...work.cutList, rows } });
      const [made] = composeTemplates(desk).map((template) => readSvg(desk.finish(template, 'sheet').svg));
      return made as Drawn;
    }) as [Drawn, Drawn];
    /** Corners of the outline and arms of the cross, 10 + 2 × 4 long, from the end of the board and the middle of its width. */
    const places = (drawn: Drawn, flip: number): string[] => {
      // The hole's rim comes as short chords.
      const outline = drawn.lines.filter(
        (l) => l.role === 'k-p' && Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]) > 30,
      );
      const cross = drawn.lines.filter(
        (l) => l.role === 'k-t' && Math.abs(Math.hypot(l.a[0] - l.b[0], l.a[1] - l.b[1]) - 18) < 0.01,
      );
      expect(cross).toHaveLength(2);
      const reach = (k: 0 | 1): [number, number] => {
        const all = outline.flatMap((l) => [l.a[k], l.b[k]]);
        return [Math.min(...all), Math.max(...all)];
      };
      // Upright the board's length runs up the paper.
      const along = reach(1)[1] - reach(1)[0] > reach(0)[1] - reach(0)[0] ? 1 : 0;
      const [low, high] = reach(along === 0 ? 1 : 0);
      const found = [...outline, ...cross]
        .flatMap((l): Xy[] => [l.a, l.b])
        .map((p) => {
          const across = (p[along === 0 ? 1 : 0] - (low + high) / 2) * flip;
          return `${(p[along] - reach(along)[0]).toFixed(1)} ${(Math.round(across * 10) / 10 + 0).toFixed(1)}`;
        });
      return [...new Set(found)].sort();
    };
    // Four corners and the four ends of a cross, on the other side of the middle.
    expect(places(one, 1)).toHaveLength(8);
    expect(places(other, -1)).toEqual(places(one, 1));
    expect(places(other, 1)).not.toEqual(places(one, 1));
  });
});

describe('what is bored has its middle and its words', () => {
  const HOLES = `{ hole: front, at: { up: 60 mm }, diameter: 20 mm, depth: 15 mm, lean: { top: 20 deg } }
{ hole: front, at: { up: 120 mm }, diameter: 6 mm, counterbore: { diameter: 16 mm, depth: 8 mm } }
{ hole: back, at: { up: 180 mm }, diameter: 8 mm }
{ hole: back, at: { up: 240 mm }, diameter: 9 mm, depth: 10 mm }
{ slot: front, from: { up: 300 mm }, to: { up: 340 mm }, width: 8 mm, depth: 10 mm }`;

  it('from the face and through to it, not what is bored into the back', () => {
    const { drawn } = only(post(HOLES, '  template: whole\n'));
    const words = said(drawn);
    for (const due of [
      'Ø 20, 15 mm deep, 20° towards the right end',
      'Ø 6 through, counterbore Ø 16, 8 mm deep',
      'slot 8 mm wide, 10 mm deep',
    ])
      expect(
        words.filter((text) => text === due),
        due,
      ).toHaveLength(1);
    expect(words.some((text) => text.startsWith('Ø 8 through'))).toBe(true);
    expect(words.some((text) => text.includes('Ø 9'))).toBe(false);
    // Crosses: two lines through one middle, past the rim by 4 each way: the leaning one's rim is 10 / cos 20° long.
    const thin = strokes(drawn, 'k-t');
    const arms = [20 / cos(20), 16, 8, 8, 8].map((rim) => rim + 8);
    for (const arm of arms)
      expect(thin.filter((l) => Math.abs(l - arm) < 0.01).length, `${arm}`).toBeGreaterThanOrEqual(2);
    expect(overlaps(drawn)).toEqual([]);
  });

  it('the rim of a leaning hole is the ellipse that its drill leaves', () => {
    const { drawing } = only(post(HOLES, '  template: whole\n'));
    // Half axes 10 and 10 / cos 20°, 10.642.
    expect(drawing.svg).toMatch(/A ?10\.642[ ,]10[ ,]/);
  });

  it('in the coat rack: seven holes, each with a cross and what it is', async () => {
    for (const { name, work } of await demoWorks(repository, ['coat-rack'])) {
      const desk = new Desk(work);
      const [composed] = composeTemplates(desk);
      if (!composed) throw new Error(name);
      const drawn = readSvg(desk.finish(composed, 'sheet').svg);
      const inches = work.plan.edition.numbers.system === 'inch';
      const [peg, screw] = inches
        ? ['Ø 3/4″, 5/8″ deep, 10° towards the upper edge', 'Ø 3/16″ through, counterbore Ø 1/2″, 3/8″ deep']
        : ['Ø 19, 16 mm deep, 10° towards the upper edge', 'Ø 5 through, counterbore Ø 12, 9 mm deep'];
      const words = said(drawn).map((text) => text.replaceAll(/\s+/g, ' '));
      expect(
        words.filter((text) => text === peg),
        name,
      ).toHaveLength(5);
      expect(
        words.filter((text) => text === screw),
        name,
      ).toHaveLength(2);
      const arm = (rim: number): number =>
        strokes(drawn, 'k-t').filter((l) => Math.abs(l - rim - 8) < 0.02).length;
      expect(arm((inches ? 19.05 : 19) / cos(10)), name).toBe(10);
      expect(arm(inches ? 12.7 : 12), name).toBe(4);
    }
  }, 60_000);
});

describe('a template is made', () => {
  it.each([
    ['not of a plain board', post(''), 0],
    ['not of a board with holes alone', post('{ hole: front, at: { up: 60 mm }, diameter: 20 mm }'), 0],
    ['not of a bevel, whose face is a rectangle', post('{ bevel: top, angle: 10 deg, long: back }'), 0],
    ['of a mitre', post('{ mitre: top, angle: 10 deg, long: left }'), 1],
    ['of a notch', post('{ notch: { left: left, right: left + 30 mm, bottom: floor, top: 60 mm } }'), 1],
    ['of a taper on four sheets', post('{ taper: [left], end: bottom, leaves: 50 mm }', '', '860 mm'), 1],
    ['not of one on more', post('{ taper: [left], end: bottom, leaves: 50 mm }', '', '880 mm'), 0],
    [
      'but where it is asked for',
      post('{ taper: [left], end: bottom, leaves: 50 mm }', '  template: yes\n', '880 mm'),
      1,
    ],
    ['of any board that asks', post('', '  template: yes\n'), 1],
    ['of none that will not', post('{ mitre: top, angle: 10 deg, long: left }', '  template: no\n'), 0],
  ])('%s', (_, parts, count) => {
    // Four sheets upright are 880 long, 12 of that margin: 868.
    expect(templates(parts)).toHaveLength(count);
  });

  it('saying how far a place in the middle is from the end', () => {
    const holes =
      '{ hole: front, at: { up: 100 mm }, diameter: 20 mm }\n{ hole: front, at: { up: 600 mm }, diameter: 20 mm }';
    const { drawing, drawn } = only(post(holes, '  template: yes\n', '800 mm'));
    // 100 - 10 - 25 = 65 and 565, alike, so shown once.
    expect(drawing.alt).toContain('1 of 2 places');
    expect(said(drawn)).toContain('from here to the left end 65 mm, 565 mm');
  });

  it('with the face up that the board’s sheet shows, so that its left end is the same on both', () => {
    // Three holes from the back, one notch: the sheet shows the face that looks back, and what lies on the left of the piece is on the right there.
    const rail = `rail:
  stock: 1x4
  runs: across
  wide face: front
  length: 150 mm
  at: { bottom: floor, left: left, front: front }
  template: whole
  shape:
    - { notch: { left: rail.left, right: rail.left + 60 mm, top: rail.top, bottom: rail.top - 30 mm } }
    - { hole: back, at: { across: rail.left + 80 mm }, diameter: 10 mm, depth: 8 mm, repeated: 3, along: across, spacing: 25 mm }
`;
    const work = workOf(built({ parts: rail }, metric));
    const desk = new Desk(work);
    const [template] = composeTemplates(desk).map((one) => readSvg(desk.finish(one, 'sheet').svg));
    const [sheet] = partSheets(desk).map((one) => composePart(desk, one, 'sheet'));
    const drawn = readSvg(desk.finish(sheet as PartDrawing, 'sheet').svg);
    const faceOn = (texts: readonly string[]) => /show face|inner face|back/.exec(texts.join(' '))?.[0];
    expect(faceOn(said(drawn))).toBe('inner face');
    expect(faceOn(said(template as Drawn))).toBe('inner face');
    // The short upright stroke of the notch, 30 mm, stands 60 mm from the right end, not from the left one.
    const outline = (template as Drawn).lines.filter((l) => l.role === 'k-p');
    const xs = outline.flatMap(({ a, b }) => [a[0], b[0]]);
    const upright = outline.filter(
      ({ a, b }) => Math.abs(a[0] - b[0]) < 0.01 && Math.abs(Math.abs(a[1] - b[1]) - 30) < 0.01,
    );
    expect(upright.map(({ a }) => Math.max(...xs) - a[0])).toEqual([expect.closeTo(60, 2)]);
  });

  it('without a text over another or over a line, in the demo plans', async () => {
    let count = 0;
    for (const { name, work } of await demoWorks(repository)) {
      const desk = new Desk(work);
      for (const composed of composeTemplates(desk)) {
        const drawn = readSvg(desk.finish(composed, 'sheet').svg);
        expect(overlaps(drawn), `${name} ${composed.id}`).toEqual([]);
        expect(said(drawn).length, `${name} ${composed.id}`).toBeGreaterThan(0);
        count++;
      }
    }
    // Rack, nest box, stool (two hands of legs, two rails) and more, in both editions.
    expect(count).toBeGreaterThanOrEqual(2 * 6);
  }, 120_000);

  it('in inches too', () => {
    const { drawing, drawn } = only(post('{ mitre: top, angle: 10 deg, long: left }'), inch);
    expect(drawing.scale).toBe('full size');
    // 3-1/2 in of width fall by 3.5 tan 10°.
    const size = 25.4 * Math.hypot(3.5, 3.5 * tan(10));
    expect(Math.min(...strokes(drawn).map((l) => Math.abs(l - size)))).toBeLessThan(0.01);
  });
});
