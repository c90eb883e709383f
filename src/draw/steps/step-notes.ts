/** Notes of a step's drawing on leaders: how many fasteners or fittings there are, to one of them. */
import type { Line } from '../../text.ts';
import { Obstacles } from '../paper/dimensions.ts';
import { placeLeaders, type WantedLeader } from '../paper/leaders.ts';
import { boxOfMark, type Mark, segmentsOf, textQuad } from '../paper/marks.ts';
import { type Box, boxesMeet, boxOf, inside, quadOfBox } from '../paper/plane.ts';
import type { PaperView } from '../shading/shade.ts';
import type { Point } from '../types.ts';
import type { Ground } from '../views/axis-dimensions.ts';

/** What is said, and places to point to, best first; an arrow where `end` says nothing else. */
export interface StepNote {
  readonly text: Line;
  /** What is said where there is no room for all of it. */
  readonly short?: Line;
  readonly tips: readonly Point[];
  readonly end?: WantedLeader['end'];
}

/** Places notes clear of the marks that are there already. One without a clear place is left out. */
export function notesAround(
  notes: readonly StepNote[],
  marks: readonly Mark[],
  ground: Ground,
  view: PaperView,
): Mark[] {
  const obstacles = new Obstacles();
  obstacles.lines.push(...ground.edges);
  for (const mark of marks) {
    if (mark.kind === 'text') obstacles.texts.push(textQuad(mark));
    else if (mark.kind === 'circle') obstacles.texts.push(quadOfBox(boxOfMark(mark)));
    else if (mark.kind === 'lines' && (mark.role === 'thin' || mark.role === 'stroke'))
      obstacles.extensions.push(...segmentsOf(mark));
  }
  const around = { left: -16, top: -16, right: view.width + 24, bottom: view.height + 14 };
  const surfaces = ground.surfaces.map((loops) => ({ loops, box: boxOf(loops.flat()) }));
  const taken = (box: Box): boolean =>
    surfaces.some(
      (surface) =>
        boxesMeet(surface.box, box) && quadOfBox(box).some((corner) => inside(corner, surface.loops)),
    );
  return notes.flatMap(({ text, short, tips, end = 'arrow' }) => {
    for (const said of short === undefined ? [text] : [text, short]) {
      const placed = placeLeaders([{ text: said, tips, end }], obstacles, around, taken);
      if (placed.left.length === 0) return placed.marks;
    }
    return [];
  });
}

/** Has what is placed later keep clear of notes. */
export function keepClear(ground: Ground, notes: readonly Mark[]): void {
  for (const mark of notes) {
    if (mark.kind === 'text') ground.texts.push(textQuad(mark));
    else if (mark.kind === 'lines') ground.lines.push(...segmentsOf(mark));
  }
}
