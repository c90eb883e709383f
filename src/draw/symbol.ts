/** The projection symbol: a truncated cone in two views, placed as the method places them (ISO 5456-2). */
import { line, type Mark } from './marks.ts';
import type { Point } from './types.ts';

/** Height of the symbol, mm. */
export const SYMBOL_HEIGHT = 5;

/** The symbol with its left end at `at`, centred on its height. Third angle: circles first; first angle: cone first. */
export function projectionSymbol(
  method: 'third angle' | 'first angle',
  at: Point,
): { marks: Mark[]; width: number } {
  const large = SYMBOL_HEIGHT / 2;
  const small = large / 2;
  const cone = SYMBOL_HEIGHT;
  const gap = 2.6;
  const [x, y] = at;
  const circlesAt = method === 'third angle' ? x + large : x + cone + gap + large;
  const coneAt = method === 'third angle' ? x + 2 * large + gap : x;
  const width = 2 * large + gap + cone;
  return {
    width,
    marks: [
      { kind: 'circle', centre: [circlesAt, y], radius: large, role: 'pictorial', open: true },
      { kind: 'circle', centre: [circlesAt, y], radius: small, role: 'pictorial', open: true },
      line('pictorial', [
        [coneAt, y - small],
        [coneAt + cone, y - large],
        [coneAt + cone, y + large],
        [coneAt, y + small],
        [coneAt, y - small],
      ]),
      line(
        'centre',
        [
          [circlesAt - large - 1.2, y],
          [circlesAt + large + 1.2, y],
        ],
        [
          [circlesAt, y - large - 1.2],
          [circlesAt, y + large + 1.2],
        ],
        [
          [coneAt - 1.2, y],
          [coneAt + cone + 1.2, y],
        ],
      ),
    ],
  };
}
