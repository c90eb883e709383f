/**
 * Saw settings of compound cuts against published tables for splayed work and crown moulding (check values T9.1 to T9.3; the figures
 * stand in trade tables for n equal sides by pitch, and for crown moulding by spring angle and corner). The settings here come out of
 * the program's own solid geometry: a leaning board, an upright cut at the mitre of the corner in plan, and the normal of that cut in the
 * board's frame; no formula of the tables is used.
 */
import { describe, expect, it } from 'vitest';
import type { SawCut } from '../../src/model/shape.ts';
import { sawSettings } from '../../src/resolve/saw.ts';
import { built, metric, part } from '../resolve/shop.ts';

/** Settings of the right end of a board that leans by `lean` out of upright, mitred by `plan` degrees seen from above. */
function settings(lean: number, plan: number): SawCut['saw'] {
  const leans = lean === 0 ? '' : `lean: { front: ${lean} deg }`;
  const plane = built(
    {
      parts: `side:
  stock: 18x145
  runs: across
  wide face: front
  length: 800 mm
  at: { bottom: floor, left: left, front: front }
  ${leans}
  shape:
    - { mitre: right, angle: ${plan} deg, long: back, seen: top }`,
    },
    metric,
  );
  const cut = part(plane, 'side').copies[0]?.shape.find((one): one is SawCut => one.kind === 'saw');
  if (!cut) throw new Error('no cut');
  return cut.saw;
}

const printed = ({ mitre, tilt }: SawCut['saw']): string => `${mitre.toFixed(2)}/${tilt.toFixed(2)}`;

describe('splayed boxes, T9.2', () => {
  // Board pitch p from level: it leans 90 - p out of upright.
  const table: Readonly<Record<number, readonly string[]>> = {
    15: ['59.13/12.95', '44.01/10.55', '35.06/8.75', '29.15/7.44', '21.81/5.68', '17.42/4.59', '14.51/3.84'],
    20: ['58.43/17.23', '43.22/14.00', '34.32/11.60', '28.48/9.85', '21.27/7.52', '16.98/6.07', '14.13/5.08'],
    30: [
      '56.31/25.66',
      '40.89/20.70',
      '32.18/17.09',
      '26.57/14.48',
      '19.73/11.03',
      '15.72/8.89',
      '13.06/7.44',
    ],
    45: [
      '50.77/37.76',
      '35.26/30.00',
      '27.19/24.56',
      '22.21/20.70',
      '16.32/15.70',
      '12.94/12.62',
      '10.73/10.55',
    ],
    60: [
      '40.89/48.59',
      '26.57/37.76',
      '19.96/30.60',
      '16.10/25.66',
      '11.70/19.35',
      '9.23/15.52',
      '7.63/12.95',
    ],
  };
  const sides = [3, 4, 5, 6, 8, 10, 12];
  it.each(Object.entries(table))('at a pitch of %s degrees', (pitch, row) => {
    expect(sides.map((n) => printed(settings(90 - Number(pitch), 180 / n)))).toEqual(row);
  });

  it('more points of n = 4', () => {
    const points: readonly (readonly [number, string])[] = [
      [25, '42.19/17.39'],
      [35, '39.32/23.93'],
      [40, '37.45/27.03'],
      [50, '32.73/32.80'],
      [55, '29.84/35.40'],
      [65, '22.91/39.86'],
      [70, '18.88/41.64'],
      [75, '14.51/43.08'],
    ];
    for (const [pitch, row] of points) expect(printed(settings(90 - pitch, 45))).toBe(row);
  });

  it('upright boards are plain bevels: no mitre, the blade at 180 / n (T9.1, p = 90)', () => {
    expect(printed(settings(0, 45))).toBe('0.00/45.00');
    expect(printed(settings(0, 30))).toBe('0.00/30.00');
  });
});

describe('crown moulding, T9.3', () => {
  // The back leans out of the wall by the spring; a corner C is mitred by (180 - C) / 2 in plan.
  it.each([
    [90, '31.62/33.86', '35.26/30.00', '38.24/25.81'],
    [120, '19.57/23.20', '22.21/20.70', '24.46/17.93'],
    [135, '14.31/17.55', '16.32/15.70', '18.08/13.63'],
    [60, '46.84/43.03', '50.77/37.76', '53.77/32.22'],
  ] as const)('at a corner of %s degrees', (corner, ...row) => {
    expect([38, 45, 52].map((spring) => printed(settings(spring, (180 - corner) / 2)))).toEqual(row);
  });
});

describe('settings from a normal', () => {
  it('of square, mitred and bevelled cuts', () => {
    expect(sawSettings([1, 0, 0], 'end')).toEqual({ mitre: 0, tilt: 0 });
    expect(sawSettings([Math.SQRT1_2, -Math.SQRT1_2, 0], 'end').mitre).toBeCloseTo(45, 12);
    expect(sawSettings([Math.SQRT1_2, 0, Math.SQRT1_2], 'end').tilt).toBeCloseTo(45, 12);
    // an edge ripped with the blade at 30 degrees
    expect(sawSettings([0, Math.cos(Math.PI / 6), 0.5], 'edge')).toEqual({
      mitre: 0,
      tilt: expect.closeTo(30, 12),
    });
  });
});
