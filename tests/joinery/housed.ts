/** What tests of housings measure: housings in a board, volumes and overlaps from the solids, notes of the cut list. */
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolids } from '../../src/geometry/manifold.ts';
import { findOverlaps } from '../../src/geometry/overlaps.ts';
import { placeParts } from '../../src/geometry/place.ts';
import type { BoxCut } from '../../src/model/shape.ts';
import type { Plan } from '../../src/model/types.ts';
import { lineText } from '../../src/text.ts';
import { part } from '../resolve/shop.ts';

const solids = await loadSolids();

/** Housings, notches and rebates of a copy of a part. */
export const boxes = (plan: Plan, key: string, copy = 0): BoxCut[] =>
  (part(plan, key).copies[copy]?.shape ?? []).filter((one): one is BoxCut => one.kind === 'box');

/** Volume of a copy as it is cut, mm³. */
export const volume = (plan: Plan, id: string): number =>
  placeParts(plan, solids).find((one) => one.copy === id)?.volume ?? 0;

/** The cut list's notes of a part, row by row. */
export const notes = (plan: Plan, key: string): string[] =>
  cutList(plan)
    .rows.filter((row) => row.part === key)
    .flatMap((row) => row.notes.map(lineText));

/** Boards that take the same room. */
export const overlapsOf = (plan: Plan) => findOverlaps(placeParts(plan, solids), solids);
