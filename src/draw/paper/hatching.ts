/** Hatching of cut faces (ISO 128-3): thin lines at 45 degrees, neighbouring boards the other way or closer together. */

import type { Point, ViewPicture } from '../types.ts';
import { line, type Mark } from './marks.ts';
import { boxOf, clipToLoops, type Segment } from './plane.ts';

/** Between two lines of a hatching, mm; boards take these and both directions in turn. */
const APART = [2.2, 1.5] as const;

/** Hatching of all cut faces of a view, each board with its own direction and spacing. */
export function hatching(picture: ViewPicture, map: (p: Point) => Point): Mark[] {
  const copies = [
    ...new Set(picture.faces.filter((face) => face.role === 'section').map((face) => face.copy)),
  ];
  const lines = picture.faces
    .filter((face) => face.role === 'section')
    .flatMap((face): Segment[] => {
      const kind = copies.indexOf(face.copy);
      const slope = kind % 2 === 0 ? 1 : -1;
      const apart = (APART[Math.floor(kind / 2) % 2] as number) * Math.SQRT2;
      const loops = face.loops.map((loop) => loop.map(map));
      const box = boxOf(loops.flat());
      const [width, height] = [box.right - box.left, box.bottom - box.top];
      const count = Math.min(600, Math.ceil((width + height) / apart));
      return Array.from({ length: count }, (_, i): Segment => {
        const at = (i + 0.5) * apart;
        return slope > 0
          ? [
              [box.left + at - height, box.bottom],
              [box.left + at, box.top],
            ]
          : [
              [box.left + at - height, box.top],
              [box.left + at, box.bottom],
            ];
      }).flatMap((one) => clipToLoops(one, loops));
    });
  return lines.length === 0 ? [] : [line('hatch', ...lines)];
}
