/** Cautions that the sizes of the parts call for: printed in the safety section, and named by the proof. */
import type { CutList, CutListRow } from '../cutting/types.ts';
import type { Plan } from '../model/types.ts';
import { inches, mm, printed, sizeText } from '../units.ts';
import { listed } from './words.ts';

export interface Caution {
  /** Our own stable name, with the figure's rule beside it. */
  readonly id: string;
  readonly message: string;
  readonly source: string;
  readonly parts: readonly string[];
}

/** A piece shorter than this brings a hand near the blade of a mitre saw: saw manuals, about 6 in (152 mm); 150 mm in metric words. */
const SHORT = { inch: inches(6), mm: mm(150) };
/** A rip narrower than this wants a push block: common practice, no source. */
const NARROW = { inch: inches(2), mm: mm(50) };
/** One person lifts 23 kg at best, in the best posture: NIOSH 94-110 (revised 2021), load constant. */
export const LIFT = 23;

/** Cautions for the builder, in the order of the work. */
export function cautionsOf(plan: Plan, cutList: CutList): Caution[] {
  const { system } = plan.edition.numbers;
  const [shortest, narrowest] = [SHORT[system], NARROW[system]];
  const print = (length: number) => sizeText(printed(length, plan.edition.numbers));
  const names = (rows: readonly CutListRow[]) => listed(rows.map((row) => row.letter));
  const saw = plan.edition.language === 'en-US' ? 'miter saw' : 'mitre saw';
  const cautions: Caution[] = [];
  const short = cutList.rows.filter((row) => row.length < shortest);
  if (short.length > 0) {
    cautions.push({
      id: 'safety.short-piece',
      message: `${short.length === 1 ? 'Part' : 'Parts'} ${names(short)} ${short.length === 1 ? 'is' : 'are'} less than ${print(shortest)} long. Cut short parts from a longer piece, by hand or clamped to a backing board, and keep your fingers out of a ${saw}’s reach.`,
      source: 'saw manuals: hands stay about 6 in (152 mm) from the blade',
      parts: short.map((row) => row.part),
    });
  }
  const narrow = cutList.rows.filter((row) => row.rip && row.width < narrowest);
  if (narrow.length > 0) {
    cautions.push({
      id: 'safety.narrow-rip',
      message: `${narrow.length === 1 ? 'Part' : 'Parts'} ${names(narrow)} ${narrow.length === 1 ? 'is' : 'are'} ripped narrower than ${print(narrowest)}. Use a push block or a sled, with the guard and the riving knife in place.`,
      source: 'common practice, no source',
      parts: narrow.map((row) => row.part),
    });
  } else if (cutList.rows.some((row) => row.rip && row.width < shortest)) {
    cautions.push({
      id: 'safety.rip',
      message: `Ripping boards narrower than ${print(shortest)}: use a push stick, with the guard and the riving knife in place.`,
      source: 'saw manuals: push stick for rips under 6 in (152 mm)',
      parts: cutList.rows.filter((row) => row.rip).map((row) => row.part),
    });
  }
  if (cutList.weight !== undefined && cutList.weight > LIFT) {
    cautions.push({
      id: 'safety.lift',
      message: `The finished piece weighs about ${weightText(cutList.weight, plan)}. Lift it with a second person.`,
      source: 'NIOSH 94-110 (rev. 2021): at most 23 kg (51 lb) for one person in the best posture',
      parts: [],
    });
  }
  return cautions;
}

/** A weight in the edition's unit, to the nearest whole one. 1 lb = 0.45359237 kg exactly. */
export function weightText(kilograms: number, plan: Plan): string {
  return plan.edition.numbers.system === 'inch'
    ? `${Math.round(kilograms / 0.45359237)} lb`
    : `${Math.round(kilograms)} kg`;
}
