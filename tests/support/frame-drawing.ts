/** Drawings for tests of what is published: a frame, a cross and a name, at their real size on paper. */
import type { Drawing, DrawingKind } from '../../src/draw/types.ts';

/** A frame with a cross and a name in it, at its real size on paper. */
export function standIn(
  id: string,
  kind: DrawingKind,
  width: number,
  height: number,
  more: Partial<Drawing> = {},
): Drawing {
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}mm" height="${height}mm">` +
    `<rect x="0.25" y="0.25" width="${width - 0.5}" height="${height - 0.5}" fill="#e8d6b2" stroke="#1f1c19" stroke-width="0.5"/>` +
    `<path d="M0 0L${width} ${height}M0 ${height}L${width} 0" stroke="#8b857b" stroke-width="0.25"/>` +
    `<text x="4" y="8" font-family="'Source Sans 3'" font-size="3.8" fill="#1f1c19">drawing ${id}</text></svg>`;
  return {
    id,
    kind,
    title: id,
    caption: [],
    alt: `Stand-in for drawing ${id}.`,
    width,
    height,
    scale: 'not to scale',
    svg,
    ...more,
  };
}
