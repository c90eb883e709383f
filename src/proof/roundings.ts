/** Sizes that an edition rounded because the plan gives no pair for them: said once each, so that nothing is rounded unseen. */
import { printed, sizeText } from '../units.ts';
import type { Rule } from './types.ts';

export const roundings: Rule = ({ plan }) =>
  plan.roundings.flatMap((rounding) => {
    if (rounding.exact === 0) return []; // nothing is nothing in every unit
    const style = plan.edition.numbers;
    const size = sizeText(printed(rounding.rounded, style));
    const exact =
      style.system === 'mm'
        ? `${Number(rounding.exact.toFixed(2))} mm`
        : `${Number((rounding.exact / 25.4).toFixed(4))}″`;
    return {
      id: 'size.rounded',
      severity: 'note',
      origin: rounding.origin,
      message: `${rounding.written} is ${exact}; this edition takes ${size}`,
      hint:
        style.system === 'mm'
          ? `to choose it yourself, write ${rounding.written} | ${size}`
          : `to choose it yourself, write a pair: inches | millimetres`,
    };
  });
