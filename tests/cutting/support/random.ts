/** A small generator of whole numbers, so that a failing case can be made again from its number (Park and Miller 1988). */
export function randomFrom(start: number): (from: number, to: number) => number {
  let state = (start * 48_271 + 1) % 2_147_483_647;
  return (from, to) => {
    state = (state * 48_271) % 2_147_483_647;
    return from + (state % (to - from + 1));
  };
}
