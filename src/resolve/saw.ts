/**
 * Saw settings of a cut for a board lying flat on the table, from the normal of the cut plane in the board's own frame (x along
 * its length, y its width, z its thickness).
 *
 * The cut meets the wide face in a line; the mitre gauge stands out of square by the angle of that line: atan(|ny| / |nx|) for an end,
 * atan(|nx| / |ny|) for an edge. The blade, at right angles to the table where it isn't tilted, tilts by asin(|nz|). Checked against
 * the tables for splayed boxes and crown moulding (check values T9.1 to T9.3) in tests/published.
 */
import type { Triple } from './vectors.ts';

/** Degrees: how far the mitre gauge is turned out of square, and the blade tilted out of upright. */
export interface SawSettings {
  readonly mitre: number;
  readonly tilt: number;
}

const degrees = (radians: number): number => (radians * 180) / Math.PI;

/** Settings for a cut across an end, or along an edge. @param normal unit normal in the board's own frame */
export function sawSettings(normal: Triple, cut: 'end' | 'edge'): SawSettings {
  const [x, y, z] = normal.map(Math.abs) as [number, number, number];
  const clean = (value: number): number => (Math.abs(value) < 1e-9 ? 0 : value);
  return {
    mitre: clean(degrees(cut === 'end' ? Math.atan2(y, x) : Math.atan2(x, y))),
    tilt: clean(degrees(Math.asin(Math.min(1, z)))),
  };
}
