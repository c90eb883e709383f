/** What is said, on the page and in the PDF, of how good the layouts are. */
import type { CuttingLayouts } from '../../cutting/types.ts';

const NUMBERS = ['two', 'three', 'four', 'five', 'six'];

/**
 * With what proved layouts of sheets were compared, where that is not every way of cutting; nothing where it is. A sentence that stands
 * after one that says that nothing costs less.
 */
export function levelsText({ proofs }: Pick<CuttingLayouts, 'proofs'>): string {
  const levels = proofs.flatMap((proof) => (proof.status === 'proved best' && proof.levels) || []);
  if (levels.length === 0) return '';
  const least = Math.min(...levels);
  return `For sheets that goes for all layouts whose cuts are at most ${NUMBERS[least - 2] ?? least} levels deep, each across the one before.`;
}

/** `lengths`, `sheets` or `lengths and sheets`: what there was to choose from. */
export function choiceText({
  boards,
  sheets = [],
}: Pick<CuttingLayouts, 'boards' | 'sheets'>): 'lengths' | 'sheets' | 'lengths and sheets' {
  if (sheets.length === 0) return 'lengths';
  return boards.length === 0 ? 'sheets' : 'lengths and sheets';
}
