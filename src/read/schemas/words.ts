/** The fixed words of the plan language. */
import type { Viewpoint } from '../types.ts';

export const DIRECTIONS = ['across', 'deep', 'up'] as const;
export const FACES = ['left', 'right', 'front', 'back', 'bottom', 'top'] as const;
export const MIRRORS = ['left-right', 'front-back', 'bottom-top'] as const;
/** Joints that hardware serves. */
export const FASTENED = ['pocket screws', 'screws', 'nails', 'glue'] as const;
export const JOINTS = [...FASTENED, 'housing'] as const;
export const LAYINGS = [
  'front to back',
  'back to front',
  'bottom to top',
  'top to bottom',
  'left to right',
  'right to left',
] as const;

/** Names a plan has from its outline, and words a formula takes as units: no part or size can be called so. */
export const RESERVED: readonly string[] = [...FACES, 'floor', 'outline', 'in', 'ft', 'mm', 'cm', 'm', 'deg'];

const VIEW_AXES = [
  ['depth', ['front', 'back']],
  ['side', ['left', 'right']],
  ['height', ['above', 'below']],
] as const;

/** `back right above`, in any order; what is not said is front, left and above. Undefined where it is no viewpoint. */
export function viewpointOf(text: string): Viewpoint | undefined {
  const asked = text.trim().split(/\s+/u);
  const view = { depth: 'front', side: 'left', height: 'above' };
  for (const [axis, choices] of VIEW_AXES) {
    const chosen = asked.filter((word) => choices.some((choice) => choice === word));
    if (chosen.length > 1) return undefined;
    if (chosen[0] !== undefined) view[axis] = chosen[0];
  }
  const known = asked.every((word) => VIEW_AXES.some(([, choices]) => choices.some((one) => one === word)));
  return known ? (view as Viewpoint) : undefined;
}

/** Fittings that a check of the proof looks for. */
export const FITTINGS = ['hinge', 'stay', 'hook', 'peg'] as const;
