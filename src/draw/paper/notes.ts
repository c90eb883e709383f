/** Leader notes: a dot in a surface, a thin line to an underlined word outside the view. */
import type { Line } from '../../text.ts';
import type { Point } from '../types.ts';
import type { Obstacles } from './dimensions.ts';
import { setLine, textAt } from './lettering.ts';
import { line, type Mark, textQuad } from './marks.ts';
import {
  type Box,
  boxOf,
  crossing,
  distanceToSegment,
  inside,
  type Segment,
  shapesMeet,
  sidesOf,
} from './plane.ts';

/** A note to a surface; the first surface with a good place for the dot takes it. */
export interface WantedNote {
  readonly text: Line;
  readonly faces: readonly (readonly (readonly Point[])[])[];
}

/** Rise of the text above its underline, mm. */
const RISE = { plain: 1.2, fraction: 2 } as const;

type Loops = readonly (readonly Point[])[];
interface View {
  readonly edges: readonly Segment[];
  readonly box: Box;
}

/** Places notes beside a view, to its right or above it, in the order given; one without a clear place is left out. */
export function placeNotes(
  view: View,
  notes: readonly WantedNote[],
  obstacles: Obstacles,
  side: 'right' | 'above',
): Mark[] {
  const leaders: Segment[] = [];
  const marks: Mark[] = [];
  for (const note of notes) {
    const placed = placeNote(view, note, obstacles, leaders, side);
    if (!placed) continue;
    marks.push(
      line('thin', placed.leader, placed.underline),
      { kind: 'dot', centre: placed.leader[0] },
      placed.text,
    );
    leaders.push(placed.leader);
    obstacles.extensions.push(placed.leader, placed.underline);
    obstacles.texts.push(textQuad(placed.text));
  }
  return marks;
}

interface PlacedNote {
  readonly cost: number;
  readonly leader: Segment;
  readonly underline: Segment;
  readonly text: Extract<Mark, { kind: 'text' }>;
}

function placeNote(
  view: View,
  note: WantedNote,
  obstacles: Obstacles,
  leaders: readonly Segment[],
  side: 'right' | 'above',
): PlacedNote | undefined {
  const lettering = setLine(note.text);
  const rise = lettering.hasFraction ? RISE.fraction : RISE.plain;
  const run = lettering.width + 1.4;
  let best: PlacedNote | undefined;
  for (const face of note.faces) {
    const dot = dotNear(face, view, side);
    if (!dot) continue;
    for (const { foot, to, cost } of feet(dot, view.box, side, run)) {
      if (best && cost >= best.cost) continue;
      const leader: Segment = [dot, foot];
      const underline: Segment = [foot, [foot[0] + to * run, foot[1]]];
      const text = textAt(lettering, [Math.min(foot[0], foot[0] + to * run) + 0.7, foot[1] - rise]);
      const quad = textQuad(text);
      const lines = [leader, underline];
      if (!obstacles.textIsClear(quad) || shapesMeet(quad, leader, 0.3)) continue;
      if (!lines.every((s) => obstacles.lineIsClear(s))) continue;
      if (lines.some((s) => obstacles.dimensionLines.some((d) => crossing(s, d, 0.5)))) continue;
      if (lines.some((s) => leaders.some((l) => crossing(s, l, 0.5)))) continue;
      best = { cost, leader, underline, text };
    }
    if (best) return best;
  }
  return best;
}

/** Where a note's underline may begin, which way it runs, and what that costs. */
function* feet(
  dot: Point,
  box: Box,
  side: 'right' | 'above',
  run: number,
): Generator<{ foot: Point; to: 1 | -1; cost: number }> {
  if (side === 'right')
    for (const dx of [8, 12, 16])
      for (let dy = -30; dy <= 30; dy += 2) {
        const foot: Point = [box.right + dx, dot[1] + dy];
        const slope = Math.abs(dy) / (foot[0] - dot[0]);
        yield { foot, to: 1, cost: dx * 0.2 + Math.abs(slope - 0.45) * 8 + Math.abs(dy) * 0.1 };
      }
  else
    for (const up of [7, 10, 13])
      for (let dx = -30; dx <= 30; dx += 2) {
        const foot: Point = [dot[0] + dx, box.top - up];
        const to = dx < 0 ? -1 : 1;
        if (foot[0] + to * run > box.right + 2 || foot[0] + to * run < box.left - 2) continue;
        const slope = Math.abs(dx) / (dot[1] - foot[1]);
        yield { foot, to, cost: up * 0.2 + Math.abs(slope - 0.6) * 8 };
      }
}

/** A point in a face for a leader's dot, clear of its sides and near the side where the notes stand. */
function dotNear(loops: Loops, view: View, side: 'right' | 'above'): Point | undefined {
  const box = boxOf(loops.flat());
  const sides = [...sidesOf(loops), ...view.edges];
  let best: { point: Point; score: number } | undefined;
  for (let i = 1; i < 30; i++)
    for (let j = 1; j < 12; j++) {
      const p: Point = [
        box.left + ((box.right - box.left) * i) / 30,
        box.top + ((box.bottom - box.top) * j) / 12,
      ];
      if (!inside(p, loops)) continue;
      const free = Math.min(...sides.map((side) => distanceToSegment(p, side)));
      if (free < 1) continue;
      const off = Math.abs(
        view.box.right - (side === 'right' ? 12 : (view.box.right - view.box.left) * 0.3) - p[0],
      );
      const score = Math.min(free, 2.2) * 3 - off * 0.15;
      if (!best || score > best.score + 1e-9) best = { point: p, score };
    }
  return best?.point;
}
