/** Vector arithmetic, shared with the phases before. */
export { acrossAxis, add, cross, dot, norm, scale, subtract, unit } from '../resolve/vectors.ts';
