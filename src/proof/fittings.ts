/**
 * Hinges, handles and plates against the wood that their screws go into. Wood that lies against the back of the part counts, since a block
 * there is what helps. Source: none needed, the point of a screw must not come out.
 */
import type { Diagnostic } from '../diagnostics.ts';
import { contactsBetween } from '../joinery/index.ts';
import { placingOf } from '../model/frames.ts';
import { axisOfSide, farCorner, outwardOf, sideOf } from '../model/sides.ts';
import type { Copy, Face, Part, Plan } from '../model/types.ts';
import { dot } from '../resolve/vectors.ts';
import { allCopies, print } from './support.ts';
import type { Rule } from './types.ts';

/** A board of 5/8 in stands for one of 16 mm, mm. */
const PLAY = 0.2;

/** Thickness of a copy behind a face of its part, and of the thickest board that lies against its back there, mm. */
function woodBehind(plan: Plan, part: Part, copy: Copy, face: Face): number {
  const side = sideOf(part, face);
  const own = farCorner(copy.size)[axisOfSide(side)];
  const out = placingOf(copy.frame, copy.size.width).vector(outwardOf(side));
  const others = allCopies(plan).map((one) => one.copy);
  const backing = contactsBetween([copy], others).flatMap(({ normal, second }) => {
    const other = dot(normal, out) < -0.99 ? others.find(({ id }) => id === second) : undefined;
    if (other === undefined) return [];
    // Through the other board along the same way: the size that lies nearest to it.
    const { frame, size } = other;
    const ways = [
      [frame.length, size.length],
      [frame.width, size.width],
      [frame.thickness, size.thickness],
    ] as const;
    return ways.filter(([way]) => Math.abs(dot(way, out)) > 0.99).map(([, length]) => length);
  });
  return own + Math.max(0, ...backing);
}

/** One finding a use: where its part is thinnest. */
export const fittings: Rule = ({ plan }) =>
  plan.hardware.flatMap(({ item, on, origin }): Diagnostic[] => {
    const needs = item.wood?.[plan.edition.numbers.system];
    const [key, word] = (on ?? '').split('.').map((text) => text.trim());
    const part = plan.parts.find((one) => one.key === key);
    if (needs === undefined || part === undefined) return [];
    const face = (word ?? part.wideFace) as Face;
    const found = Math.min(...part.copies.map((copy) => woodBehind(plan, part, copy, face)));
    if (!(found < needs - PLAY)) return [];
    return [
      {
        id: 'hardware.wood',
        severity: 'warning',
        origin,
        message: `expected ${print(plan, needs)} of wood behind "${item.key}" on the ${face} of "${part.key}", found ${print(plan, found)}`,
        hint: 'put a block behind it, as a part that touches it there; or take one with shorter screws and say so under "wood" in its file',
        parts: [part.key],
      },
    ];
  });
