/** What a part's sheet says of curved outlines, worked edges and tongues. */

import type { Outline } from '../model/shape.ts';
import type { BlankSize, Vec3 } from '../model/types.ts';
import { text } from '../text.ts';
import type { BoardSide } from './board-views.ts';
import {
  type Feature,
  type FeatureWords,
  lengthAlong,
  near,
  type Of,
  placed,
  type Saying,
  spanned,
} from './feature.ts';

export function outlineFeatures(
  index: number,
  shape: Of<'outline'>,
  size: BlankSize,
  say: Saying,
): Feature[] {
  const z = size.thickness;
  if (shape.arc) {
    const { rise, radius, span, form } = shape.arc;
    const whole = shape.arc.side === 'start' || shape.arc.side === 'end' ? size.width : size.length;
    return [
      {
        kind: 'note',
        on: 'face',
        at: [arcMiddle(shape, z)],
        text: [
          text(form === 'hollow' ? 'hollow, rise ' : 'crown, rise '),
          say.size(rise),
          ...(near(span, whole) ? [] : [text(' over '), say.size(span)]),
          text(', R '),
          say.size(radius),
        ],
        of: [`${index} arc`],
      },
    ];
  }
  const features: Feature[] = [];
  const said = new Set<string>();
  const points = [shape.start, ...shape.stretches.map(({ to }) => to)].slice(0, -1);
  points.forEach(([x, y], i) => {
    for (const [axis, at] of [
      [0, x],
      [1, y],
    ] as const) {
      const key = `${axis} ${at.toFixed(1)}`;
      if (said.has(key)) continue;
      said.add(key);
      features.push(...placed('face', axis, at, size, say, [`${index} point ${i} ${'xyz'[axis]}`]));
    }
  });
  const radii = new Map<string, { at: Vec3[]; of: string[]; radius: number }>();
  shape.stretches.forEach((stretch, i) => {
    if (!stretch.arc) return;
    const from = i === 0 ? shape.start : (shape.stretches[i - 1] as (typeof shape.stretches)[number]).to;
    const key = stretch.arc.radius.toFixed(1);
    const known = radii.get(key) ?? { at: [], of: [], radius: stretch.arc.radius };
    const { centre, radius } = stretch.arc;
    const [mx, my] = [(from[0] + stretch.to[0]) / 2 - centre[0], (from[1] + stretch.to[1]) / 2 - centre[1]];
    const far = Math.hypot(mx, my);
    known.at.push(
      far < 1e-6
        ? [from[0], from[1], z]
        : [centre[0] + (mx / far) * radius, centre[1] + (my / far) * radius, z],
    );
    known.of.push(`${index} radius ${i}`);
    radii.set(key, known);
  });
  for (const { at, of, radius } of radii.values())
    features.push({
      kind: 'note',
      on: 'face',
      at,
      text: [text(at.length > 1 ? `${at.length} × R ` : 'R '), say.size(radius)],
      of,
    });
  return features;
}

export function edgeWords(index: number, work: Of<'edge'>, say: Saying): FeatureWords {
  const edges = work.said.filter((word) => word !== 'all' && word !== 'long');
  const which = [
    ...(work.said.includes('all') ? ['All edges'] : []),
    ...(work.said.includes('long') ? ['Long edges'] : []),
    ...(edges.length > 0
      ? [`${edges.length > 1 || !edges[0]?.includes(' ') ? 'Edges' : 'Edge'} ${edges.join(', ')}`]
      : []),
  ].join(', ');
  return {
    kind: 'words',
    text: [text(`${which} ${work.name === 'round' ? 'rounded, R ' : 'chamfered, '}`), say.size(work.size)],
    of: [`${index} size`],
  };
}

export function tongueFeatures(index: number, shape: Of<'tongue'>, size: BlankSize, say: Saying): Feature[] {
  const { tongue } = shape;
  if (!tongue) return [];
  const atEnd = tongue.side === 'start' || tongue.side === 'end';
  const axis = atEnd ? 0 : 1;
  const whole = lengthAlong(size, axis);
  const far = tongue.side === 'end' || tongue.side === 'high edge';
  const on: BoardSide = atEnd ? 'edge' : 'end';
  return [
    ...spanned(
      on,
      axis,
      far ? whole - tongue.length : 0,
      far ? whole : tongue.length,
      size,
      say,
      `${index} tongue`,
    ),
    ...spanned(on, 2, tongue.from, tongue.from + tongue.thickness, size, say, `${index} tongue`),
  ];
}

/** The middle of the longest arc of an outline, at a height of its own. */
function arcMiddle(shape: Outline, z: number): Vec3 {
  let best: { at: Vec3; size: number } = { at: [shape.start[0], shape.start[1], z], size: 0 };
  shape.stretches.forEach(({ to, arc }, i) => {
    if (!arc) return;
    const from = i === 0 ? shape.start : (shape.stretches[i - 1] as (typeof shape.stretches)[number]).to;
    const size = Math.hypot(to[0] - from[0], to[1] - from[1]);
    if (size <= best.size) return;
    const { centre, radius, counterclockwise } = arc;
    const [a, b] = [from, to].map((p) => Math.atan2(p[1] - centre[1], p[0] - centre[0])) as [number, number];
    let turn = b - a;
    if (counterclockwise && turn <= 0) turn += 2 * Math.PI;
    if (!counterclockwise && turn >= 0) turn -= 2 * Math.PI;
    const middle = a + turn / 2;
    best = { at: [centre[0] + radius * Math.cos(middle), centre[1] + radius * Math.sin(middle), z], size };
  });
  return best.at;
}
