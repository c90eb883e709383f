/**
 * Stand-in drawings for tests of the pages: boxes in isometric projection, sorted back to front, with the classes that pages
 * recolour. They are no drawings of the product, only something of the right shape.
 */
import type { Drawing, DrawingKind } from '../../src/draw/types.ts';
import type { Plan } from '../../src/model/types.ts';

interface Box {
  readonly min: readonly [number, number, number];
  readonly max: readonly [number, number, number];
  readonly fresh?: boolean;
  readonly grey?: boolean;
}

/** One millimetre of paper for so many of the piece, chosen so that the drawing is `width` mm wide. */
function iso(
  boxes: readonly Box[],
  width: number,
  extra: (put: Put) => string,
): { svg: string; width: number; height: number } {
  const raw = (x: number, y: number, z: number) => [(x - y) * 0.866, (x + y) * -0.5 * -1 - z] as const;
  // Seen from the front right: the front is the near side, so y is counted from the back.
  const corners = boxes.flatMap(({ min, max }) =>
    [min[0], max[0]].flatMap((x) =>
      [min[1], max[1]].flatMap((y) => [min[2], max[2]].map((z) => raw(x, -y, z))),
    ),
  );
  const us = corners.map(([u]) => u);
  const vs = corners.map(([, v]) => v);
  const [left, top] = [Math.min(...us), Math.min(...vs)];
  const scale = (width - 6) / (Math.max(...us) - left);
  const height = (Math.max(...vs) - top) * scale + 6;
  const put: Put = (x, y, z) => {
    const [u, v] = raw(x, -y, z);
    return [(u - left) * scale + 3, (v - top) * scale + 3];
  };
  const path = (points: readonly (readonly [number, number, number])[]) =>
    `M${points
      .map(([x, y, z]) =>
        put(x, y, z)
          .map((n) => n.toFixed(2))
          .join(' '),
      )
      .join('L')}Z`;
  const faces = [...boxes]
    .sort((a, b) => a.min[0] - b.min[0] + (b.min[1] - a.min[1]) + (a.min[2] - b.min[2]))
    .map(({ min: [x, y, z], max: [X, Y, Z], fresh, grey }) => {
      const [a, b, c] = fresh ? ['n1', 'n2', 'n3'] : grey ? ['st', 'st', 'st'] : ['wt', 'wf', 'ws'];
      const line = grey ? 'k-g" stroke="#8b857b' : 'k-p" stroke="#1f1c19';
      const face = (tint: string, points: readonly (readonly [number, number, number])[]) =>
        `<path class="k-${tint}" fill="#ffffff" d="${path(points)}"/><path class="${line}" fill="none" stroke-width="0.35" stroke-linejoin="round" d="${path(points)}"/>`;
      return (
        face(a as string, [
          [x, y, Z],
          [X, y, Z],
          [X, Y, Z],
          [x, Y, Z],
        ]) +
        face(b as string, [
          [x, y, z],
          [X, y, z],
          [X, y, Z],
          [x, y, Z],
        ]) +
        face(c as string, [
          [X, y, z],
          [X, Y, z],
          [X, Y, Z],
          [X, y, Z],
        ])
      );
    })
    .join('');
  const svg = `<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" width="${width}mm" height="${height.toFixed(2)}mm" viewBox="0 0 ${width} ${height.toFixed(2)}"><title>Stand-in</title><g id="faces">${faces}</g>${extra(put)}</svg>`;
  return { svg, width, height };
}

type Put = (x: number, y: number, z: number) => readonly [number, number];

const balloon = (x: number, y: number, letter: string): string =>
  `<g class="k-balloon"><circle class="k-t" cx="${x}" cy="${y}" r="4.2" stroke="#1f1c19" stroke-width="0.25" fill="#fdfcf8"/><text class="k-tx" x="${x}" y="${y + 1.5}" text-anchor="middle" font-family="'Source Sans 3'" font-size="4.3" font-weight="600" fill="#1f1c19">${letter}</text></g>`;

const boxesOf = (plan: Plan, state: (part: string) => Partial<Box> | undefined): Box[] =>
  plan.parts.flatMap((part) =>
    part.copies.flatMap((copy) => {
      const how = state(part.key);
      return how === undefined ? [] : [{ min: copy.bounds.min, max: copy.bounds.max, ...how }];
    }),
  );

const drawing = (
  id: string,
  kind: DrawingKind,
  title: string,
  made: { svg: string; width: number; height: number },
  scale = 'not to scale',
): Drawing => ({ id, kind, title, caption: [], alt: `${title}.`, scale, ...made });

/** A drawing with sizes: a plain board with its length above it. */
function board(id: string, kind: DrawingKind, title: string, width: number, label: string): Drawing {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} 26" width="${width}mm" height="26mm"><rect class="k-bf" x="3" y="9" width="${width - 6}" height="14" fill="#f9f2e4"/><path class="k-v" stroke="#1f1c19" stroke-width="0.5" fill="none" d="M3 9h${width - 6}v14h-${width - 6}z"/><g class="k-dim"><path class="k-t" stroke="#1f1c19" stroke-width="0.25" fill="none" d="M3 5h${width - 6}"/><text class="k-tx" x="${width / 2}" y="4" font-family="'Source Sans 3'" font-size="3.8" fill="#1f1c19">${label}</text></g></svg>`;
  return drawing(id, kind, title, { svg, width, height: 26 }, '1 : 10');
}

/** A set of stand-in drawings for a plan: pictorial, one a step, a view and a layout with the given words. */
export function standIns(
  plan: Plan,
  labels: { view: string; layout: string; step: string },
): {
  drawings: Drawing[];
  narrow: Drawing[];
} {
  const done = new Set<string>();
  const steps = plan.steps.map((step) => {
    const boxes = boxesOf(plan, (part) =>
      step.adds.includes(part) ? { fresh: true } : done.has(part) ? { grey: true } : undefined,
    );
    for (const part of step.adds) done.add(part);
    const size = `<g class="k-dim"><path class="k-t" d="M10 10h30" stroke="#1f1c19" stroke-width="0.25"/><text class="k-tx" x="20" y="9" font-size="3.8" font-family="'Source Sans 3'">${labels.step}</text></g>`;
    return drawing(
      `step-${step.index}`,
      'step',
      `Step ${step.index}`,
      iso(boxes, 116, () => balloon(16, 12, 'B') + size),
    );
  });
  return {
    drawings: [
      board('views', 'views', 'Front view', 180, labels.view),
      drawing(
        'pictorial',
        'pictorial',
        'The finished piece',
        iso(
          boxesOf(plan, () => ({})),
          144,
          () => '',
        ),
      ),
      ...steps,
      board('layout-1', 'layout', 'Board 1', 174, labels.layout),
    ],
    narrow: [board('layout-1', 'layout', 'Board 1', 95, labels.layout)],
  };
}
