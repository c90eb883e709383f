/** Cautions for the buyer that the sizes call for; each has its source in `instructions/cautions.ts`. */
import { cautionsOf } from '../instructions/index.ts';
import type { Rule } from './types.ts';

export const cautions: Rule = ({ plan, cutList }) =>
  cautionsOf(plan, cutList).map(({ id, message, source, parts }) => ({
    id,
    severity: 'caution',
    origin: plan.parts.find((part) => parts.includes(part.key))?.origin ?? {
      file: plan.file,
      line: 1,
      column: 1,
    },
    message,
    source,
    parts,
  }));
