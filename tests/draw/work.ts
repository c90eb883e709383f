/**
 * What the drawing phase is handed, made by hand from a plan of boxes: cut list, layouts and instructions in a simple form of the
 * test's own, so that drawings can be tested without the phases before them.
 */
import { boardCuts } from '../../src/cutting/cuts.ts';
import type { BoardLayout, CutList, CuttingLayouts } from '../../src/cutting/types.ts';
import type { DrawInput } from '../../src/draw/index.ts';
import { loadSolids } from '../../src/geometry/manifold.ts';
import { placeParts } from '../../src/geometry/place.ts';
import type { Instructions } from '../../src/instructions/types.ts';
import type { Part, Plan } from '../../src/model/types.ts';
import { mm } from '../../src/units.ts';

const LETTERS = 'ABCDEFGHJKLMNPQRSTUVWXYZ';
export const solids = await loadSolids();

const sizeKey = (part: Part, index: number): string => {
  const { cut } = part.copies[index] as Part['copies'][number];
  return [part.key, cut.thickness, cut.width, cut.length]
    .map((v) => (typeof v === 'number' ? v.toFixed(2) : v))
    .join(' ');
};

/** A letter for each kind of board, in the order of the parts. */
export function cutListOf(plan: Plan): CutList {
  const groups = new Map<string, { part: Part; indices: number[] }>();
  for (const part of plan.parts)
    part.copies.forEach((_, index) => {
      const key = sizeKey(part, index);
      const group = groups.get(key);
      if (group) group.indices.push(index);
      else groups.set(key, { part, indices: [index] });
    });
  const rows = [...groups.values()].map(({ part, indices }, at) => {
    const first = part.copies[indices[0] as number] as Part['copies'][number];
    return {
      letter: LETTERS[at] ?? `A${LETTERS[at - LETTERS.length]}`,
      part: part.key,
      name: part.name,
      quantity: indices.length,
      thickness: first.cut.thickness,
      width: first.cut.width,
      length: first.cut.length,
      stock: part.stock,
      species: part.species,
      ...(first.rip ? { rip: first.rip } : {}),
      copies: indices.map((i) => (part.copies[i] as Part['copies'][number]).id),
      notes: [],
    };
  });
  const letters = Object.fromEntries(rows.flatMap((row) => row.copies.map((id) => [id, row.letter])));
  return { rows, letters, volume: { value: 0, unit: 'board feet' } };
}

/** Boards filled from the left, one strip a section: first come, first placed. Boards alike are counted. */
export function layoutsOf(plan: Plan, cutList: CutList): CuttingLayouts {
  const kerf = plan.edition.kerf;
  const trim = plan.stockList.endTrim;
  const lost = trim > 0 ? trim + kerf : 0;
  const boards: { layout: BoardLayout; at: number }[] = [];
  for (const row of [...cutList.rows].sort((a, b) => b.length - a.length))
    for (let i = 0; i < row.quantity; i++) {
      const stockLength = row.stock.lengths.at(-1);
      if (!stockLength || row.length > stockLength.length - lost) continue;
      let board = boards.find(
        (b) => b.layout.stock === row.stock && b.at + row.length <= b.layout.boardLength - lost + 1e-6,
      );
      if (!board) {
        board = {
          at: 0,
          layout: {
            stock: row.stock,
            species: row.species,
            boardLength: stockLength.length,
            lengthLabel: stockLength.label,
            count: 1,
            sections: [],
            cuts: [],
            offcut: mm(0),
            endTrim: trim,
            price: 0,
          },
        };
        boards.push(board);
      }
      const strip = {
        letter: row.letter,
        copyOf: row.part,
        offset: mm(0),
        width: row.width,
        length: row.length,
      };
      const section = { start: mm(board.at), length: row.length, strips: [strip] };
      board.layout = { ...board.layout, sections: [...board.layout.sections, section] };
      board.at += row.length + kerf;
    }
  const finished = boards.map(({ layout, at }) => ({
    ...layout,
    cuts: boardCuts(layout, { kerf }),
    offcut: mm(Math.max(0, layout.boardLength - lost - at)),
  }));
  const alike = new Map<string, BoardLayout>();
  for (const board of finished) {
    const key = JSON.stringify([board.stock.key, board.boardLength, board.sections]);
    const known = alike.get(key);
    alike.set(key, known ? { ...known, count: known.count + 1 } : board);
  }
  return { boards: [...alike.values()], kerf, proofs: [], stops: [] };
}

export function instructionsOf(plan: Plan, cutList: CutList): Instructions {
  return {
    opening: [],
    sections: [],
    stepsOpening: [],
    steps: plan.steps.map((step) => ({
      index: step.index,
      title: step.title,
      blocks: [],
      parts: cutList.rows
        .filter((row) => step.adds.includes(row.part))
        .map((row) => ({ letter: row.letter, name: row.name, quantity: row.quantity })),
      sets: step.sets,
      fasteners: [],
      hardware: [],
      tools: [],
    })),
    tools: [],
    cautions: [],
    requests: [],
    diagnostics: [],
  };
}

/** All that `drawPlan` takes. */
export function workOf(plan: Plan): DrawInput {
  const cutList = cutListOf(plan);
  return {
    plan,
    cutList,
    layouts: layoutsOf(plan, cutList),
    joinery: { places: [], fasteners: [], bySteps: new Map(), diagnostics: [] },
    instructions: instructionsOf(plan, cutList),
    parts: placeParts(plan, solids),
    solids,
  };
}
