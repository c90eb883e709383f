/** What the author has cut at an end of a board. */
import type { EdgeWork, ShapeOperation, Side } from './shape.ts';
import { farCorner } from './sides.ts';
import type { Copy } from './types.ts';

/** An operation at an end, within so much of it, that leaves no plain end to go into a housing; none where the end is square. */
export function shapedEnd(copy: Copy, side: Side, depth: number): ShapeOperation | undefined {
  const [length] = farCorner(copy.size);
  const within = (low: number, high: number): boolean =>
    side === 'start' ? low < depth - 0.01 : high > length - depth + 0.01;
  return copy.shape.find((one) => {
    switch (one.kind) {
      case 'saw':
        return one.name !== 'fit' && one.side === side;
      case 'box':
        return one.name === 'notch' && within(one.min[0], one.max[0]);
      case 'outline':
        return one.arc ? one.arc.side === side : true;
      case 'tongue':
        return one.name === 'tongue' && one.tongue?.side === side;
      case 'edge':
        return atEnd(one, side);
      default:
        return false;
    }
  });
}

const atEnd = ({ edges }: EdgeWork, side: Side): boolean => edges.some((edge) => edge.includes(side));
