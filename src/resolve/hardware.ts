/** Where hardware lies on its part, as far as the plan says it in numbers. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { type Context, numberOf } from './context.ts';
import { figure } from './quantities.ts';
import type { HardwarePlace } from './types.ts';

/** The place of one use of hardware, by its index. What has a fault is left out, after a report. */
export function hardwarePlace(context: Context, index: number): HardwarePlace {
  const use = context.source.hardware[index];
  const at = Object.entries(use?.at?.values ?? {}).flatMap(([direction, written]) => {
    const name = `where hardware ${index + 1} lies ${direction}`;
    const value = written && numberOf(context, name, written, 'length');
    return value === undefined ? [] : [[direction, value] as const];
  });
  const written = use?.setBack;
  const check = (value: number): Diagnostic | undefined =>
    value > 0
      ? undefined
      : fault('hardware.set-back', written?.origin ?? use?.origin ?? { file: '', line: 1, column: 1 }, {
          expected: 'a set back above 0: how far the outermost lie from the ends of the face',
          found: figure(value, context.edition.numbers),
          hint: 'set back: 4 in | 100 mm',
        });
  const setBack =
    written &&
    numberOf(context, `the set back of hardware ${index + 1}`, written, 'length', written.origin, check);
  return { at: Object.fromEntries(at), ...(setBack === undefined ? {} : { setBack }) };
}
