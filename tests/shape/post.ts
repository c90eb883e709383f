/** A board to be shaped. */

/** A 45 × 95 board (metric list) 500 long, standing on the floor at the left front corner, its wide face to the front; `more` keys. */
export const postParts = (shape: string, more = ''): string => `post:
  stock: 45x95
  runs: up
  wide face: front
  length: 500 mm
  at: { bottom: floor, left: left, front: front }
  ${more}
  shape:
${shape.replaceAll(/^/gm, '    ')}`;
