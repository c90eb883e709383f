/**
 * The ten classes of two-dimensional bin packing cases of Berkey and Wang (1987; classes 1 to 6) and Martello and Vigo (1998; 7 to 10),
 * made again as their published generator makes them (Lodi, Martello and Vigo 1999, INFORMS J. on Computing 11(4): program and random
 * numbers as published with the paper): numbers of the linear congruential generator 7141 x + 54773 mod 259200, arithmetic in single
 * precision, warmed up 31.47 × parts × case + 2000 times.
 */
import type { SheetJob } from '../../../src/cutting/index.ts';

const f = Math.fround;
const SIDES = [10, 30, 40, 100, 100, 300, 100, 100, 100, 100];
const LARGEST = [10, 10, 35, 35, 100, 100, 100, 100, 100, 100];
/** Shares of the first three of the four kinds of part in classes 7 to 10. */
const SHARES = [
  [0.7, 0.1, 0.1],
  [0.1, 0.7, 0.1],
  [0.1, 0.1, 0.7],
  [0.1, 0.1, 0.1],
].map((row) => row.map(f));

/** Side of the square sheet and the parts, height by width, of a case: class 1 to 10, `parts` 20 to 100, case 1 to 10. */
export function classCase(
  kind: number,
  parts: number,
  number: number,
): { side: number; sizes: [number, number][] } {
  let value = 0;
  const next = (): number => {
    value = (value * 7141 + 54_773) % 259_200;
    return f(value / 259_200);
  };
  const warm = Math.trunc(f(f(parts * number * f(31.47)) + 2000)) + 1;
  for (let n = 0; n < warm; n++) next();
  const most = LARGEST[kind - 1] as number;
  const sizes = Array.from({ length: parts }, (): [number, number] => {
    let [highFrom, highTo, wideFrom, wideTo] = [1, most, 1, most];
    if (kind > 6) {
      const [p1, p2, p3] = SHARES[kind - 7] as [number, number, number];
      const x = next();
      if (x < p1) [wideFrom, highTo] = [Math.trunc((most * 2) / 3), most / 2];
      else if (x < f(p1 + p2)) [highFrom, wideTo] = [Math.trunc((most * 2) / 3), most / 2];
      else if (x < f(f(p1 + p2) + p3)) [wideFrom, highFrom] = [most / 2, most / 2];
      else [wideTo, highTo] = [most / 2, most / 2];
    }
    const high = Math.trunc(f((highTo - highFrom + 1) * next())) + highFrom;
    const wide = Math.trunc(f((wideTo - wideFrom + 1) * next())) + wideFrom;
    return [high, wide];
  });
  return { side: SIDES[kind - 1] as number, sizes };
}

/** A case as a job: no kerf, parts that may not turn, through cuts of any depth. */
export function classJob(kind: number, parts: number, number: number): SheetJob {
  const { side, sizes } = classCase(kind, parts, number);
  return {
    items: sizes.map(([length, width], index) => ({
      id: `${index}`,
      length,
      width,
      quantity: 1,
      turnable: false,
    })),
    stocks: [{ id: 'square', length: side, width: side, price: 1 }],
    kerf: 0,
    edgeTrim: 0,
    stages: 12,
  };
}
