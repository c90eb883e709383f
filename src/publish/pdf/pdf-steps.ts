/** A step as its sheet shows it: what arrives, what is driven in, what is held in the hand, and the words. */
import type { StepInstructions } from '../../instructions/types.ts';
import { capital, small } from '../../instructions/words.ts';
import type { FinishedPlan } from '../types.ts';
import { plain, type SheetBlock, type SheetLine, sheetBlocks, sheetLength } from './pdf-prose.ts';

export interface SheetStep {
  readonly number: string;
  readonly title: string;
  /** Id of its drawing; empty where it has none. */
  readonly drawing: string;
  /** Id of the smaller one for a sheet that two steps share; empty where there is none. */
  readonly half: string;
  readonly parts: readonly { readonly letter: string; readonly name: string; readonly quantity: string }[];
  readonly sets: readonly string[];
  readonly fasteners: readonly { readonly quantity: string; readonly name: SheetLine }[];
  readonly hardware: readonly { readonly quantity: string; readonly name: SheetLine }[];
  readonly tools: readonly string[];
  readonly cautions: readonly (readonly SheetBlock[])[];
  readonly blocks: readonly SheetBlock[];
  /** What it does, for the sheet at a glance. */
  readonly brief: string;
}

/** The data of one step. Its cautions stand beside the drawing, where they are seen before the work begins. */
export function stepData(step: StepInstructions, finished: FinishedPlan): SheetStep {
  const style = finished.plan.edition.numbers;
  const blocks = sheetBlocks(step.blocks);
  const drawn = (id: string): string =>
    finished.drawings.drawings.some((drawing) => drawing.id === id) ? id : '';
  const fasteners = step.fasteners.map(({ item, count }) => ({
    quantity: `${count}`,
    name: named(
      item.name,
      item.length === undefined ? [plain(item.size ?? '')] : [sheetLength(item.length, style)],
    ),
  }));
  // Glue and finish are bought by area: their count is one of coats, not of packages.
  const hardware = step.hardware.map(({ item, count, note }) => ({
    quantity: item.covers === undefined ? `${count}` : '',
    name: named(item.name, [plain(note ?? item.size ?? '')]),
  }));
  return {
    number: `${step.index}`,
    title: plain(step.title),
    drawing: drawn(`step-${step.index}`),
    half: drawn(`half-step-${step.index}`),
    parts: step.parts.map((part) => ({
      letter: plain(part.letter),
      name: plain(part.name),
      quantity: `${part.quantity}`,
    })),
    sets: step.sets.map((name) => capital(plain(name))),
    fasteners,
    hardware,
    tools: step.tools.map(plain),
    cautions: blocks.flatMap((block) => (block.kind === 'caution' ? [block.blocks] : [])),
    blocks: blocks.filter((block) => block.kind !== 'caution'),
    brief: brief(step),
  };
}

/** A name and its size, `Pocket screw, coarse thread, 1 1/4″`. */
const named = (name: string, size: SheetLine): SheetLine =>
  size.every((item) => item === '') ? [plain(name)] : [`${plain(name)}, `, ...size];

/** `Front leg × 2, low end rail × 2`, or what is set in. */
function brief(step: StepInstructions): string {
  const things = [
    ...step.sets,
    ...step.parts.map(({ name, quantity }) => (quantity === 1 ? name : `${name}\u00a0×\u00a0${quantity}`)),
    ...step.hardware.map(({ item, count }) =>
      count === 1 || item.covers !== undefined ? item.name : `${item.name}\u00a0×\u00a0${count}`,
    ),
  ].map(plain);
  // A name may hold a comma of its own: then semicolons keep the things apart.
  const between = things.some((thing) => thing.includes(',')) ? '; ' : ', ';
  return capital(things.map((thing, i) => (i === 0 ? thing : small(thing))).join(between));
}
