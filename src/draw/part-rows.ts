/** Which boards get a sheet of their own, and which board stands for several. */
import type { CutListRow } from '../cutting/types.ts';
import type { Copy, ShapeOperation } from '../model/types.ts';
import type { Desk } from './desk.ts';
import { madeByHand } from './part-features.ts';

/** Rows of the cut list whose boards get a sheet of their own; rows of boards made alike share one. */
export function partRows(desk: Desk): CutListRow[][] {
  const sheets = new Map<string, CutListRow[]>();
  for (const row of desk.input.cutList.rows) {
    const copy = copyOf(desk, row);
    const made = copy === undefined ? [] : madeByHand(desk.shapesOf(copy));
    if (copy === undefined || made.length === 0) continue;
    const key = JSON.stringify([copy.size, made.map(({ shape }) => shape)], (name, value) =>
      name === 'origin' ? undefined : typeof value === 'number' ? Math.round(value * 100) / 100 + 0 : value,
    );
    sheets.set(key, [...(sheets.get(key) ?? []), row]);
  }
  return [...sheets.values()];
}

/** The board that stands for a row: the first that is no mirror image. */
export function copyOf(desk: Desk, row: CutListRow): Copy | undefined {
  const copies = desk.partByKey.get(row.part)?.copies.filter((copy) => row.copies.includes(copy.id)) ?? [];
  return copies.find((copy) => !copy.frame.mirrored) ?? copies[0];
}

/** True where a board is the same with its edges changed over, as far as holes and square cuts say; others count as not. */
export function sameMirrored(shapes: readonly ShapeOperation[], width: number): boolean {
  const key = (shape: ShapeOperation, turned: boolean): string | undefined => {
    const y = (value: number): string => (turned ? width - value : value).toFixed(1);
    if (shape.kind === 'hole')
      return [
        shape.side,
        shape.diameter,
        shape.depth,
        shape.entry[0].toFixed(1),
        y(shape.entry[1]),
        shape.entry[2].toFixed(1),
        (turned ? -shape.axis[1] : shape.axis[1]).toFixed(3),
      ].join();
    if (shape.kind === 'box' && shape.square) {
      const [low, high] = [y(shape.min[1]), y(shape.max[1])];
      return (
        [shape.min[0], shape.max[0], shape.min[2], shape.max[2]].map((v) => v.toFixed(1)).join() +
        (turned ? [high, low] : [low, high]).join()
      );
    }
    if (shape.kind === 'saw' && Math.abs(shape.plane.normal[1]) < 1e-9) return JSON.stringify(shape.plane);
    return undefined;
  };
  const own = shapes.map((shape) => key(shape, false)?.replaceAll('-0.000', '0.000'));
  return shapes.every((shape) => {
    const other = key(shape, true)?.replaceAll('-0.000', '0.000');
    return other !== undefined && own.includes(other);
  });
}
