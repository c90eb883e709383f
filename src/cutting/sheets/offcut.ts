/**
 * Of layouts of one cost the one with the largest offcut. An offcut is a part that nobody asked for: a layout in which it has its place is looked for
 * as any other, within the same cost; larger and larger ones are tried, as long as some part of the sheets may hold them.
 */
import type { Solver } from '../highs.ts';
import type { Filled } from './fill.ts';
import type { Yard } from './kinds.ts';
import { cheaperSheets, tightSheets } from './prove.ts';
import { costOf, type Sheets } from './search.ts';
import { stepsOf, trueSums } from './steps.ts';
import { filledBy, partYard, widened } from './subset.ts';
import { extraKind, withoutExtra } from './tidy.ts';
import { largestOffcut, treeOf } from './tree.ts';

/** Parts that are laid out anew at most: those of the emptiest sheets. */
const MOST_PARTS = 30;
/** Parts of a sheet that is laid out anew by itself at most. */
const MOST_ALONE = 12;
/** Offcuts that are tried, in all and by whole strips of a sheet in each direction. */
const TRIES = 20;
/** The same where no more than so many parts are laid out. */
const FEW = 6;
const FEW_TRIES = 60;
const STRIP_TRIES = 7;
/** Finest steps of the longest side. */
const STEPS = 6000;
/** Limits of one try: see `prove.ts`. */
const LIMITS = { work: 6_000_000, looks: 200_000, blocks: 10_000, ways: 0 };
/** Additions for prices in all. */
const WORK = 20_000_000;

/** Sheets of the same cost, with an offcut at least as large. */
export function largerOffcut(yard: Yard, sheets: readonly Filled[], solver: Solver): readonly Filled[] {
  const share = ({ size, area }: Filled): number => {
    const { length, width } = yard.sizes[size] as Yard['sizes'][number];
    return area / (length * width);
  };
  // the emptiest sheets, as many as can be laid out anew
  const order = sheets
    .map((_, index) => index)
    .sort((a, b) => share(sheets[a] as Filled) - share(sheets[b] as Filled) || a - b);
  const taken: number[] = [];
  let parts = 0;
  for (const index of order) {
    const own = (sheets[index] as Filled).counts.reduce((sum, count) => sum + count, 0);
    if (parts + own > MOST_PARTS) break;
    parts += own;
    taken.push(index);
  }
  const chosen = taken.map((index) => sheets[index] as Filled);
  const again = taken.length === 0 ? undefined : (new Trial(yard, chosen, solver).best() ?? chosen);
  const rest = sheets.filter((_, index) => !taken.includes(index));
  return [
    ...alone(yard, rest, solver),
    ...(again === undefined || taken.length < 2 ? (again ?? []) : alone(yard, again, solver)),
  ];
}

/** Each sheet of few parts by itself with an offcut at least as large; equal ones come out equal. */
function alone(yard: Yard, sheets: readonly Filled[], solver: Solver): readonly Filled[] {
  const known = new Map<string, Filled>();
  return sheets.map((sheet) => {
    if (sheet.counts.reduce((sum, count) => sum + count, 0) > MOST_ALONE) return sheet;
    const key = `${sheet.size}:${sheet.counts.join()}`;
    const one = known.get(key) ?? new Trial(yard, [sheet], solver).best()?.[0] ?? sheet;
    known.set(key, one);
    return one;
  });
}

class Trial {
  readonly #yard: Yard;
  readonly #rest: ReturnType<typeof partYard>;
  readonly #solver: Solver;
  readonly #cost: number;
  /** True where so few parts are laid out that each try is quick. */
  readonly #few: boolean;
  #area: number;
  #found: readonly Filled[] | undefined;
  #tries = 0;
  #spent = 0;

  constructor(yard: Yard, chosen: readonly Filled[], solver: Solver) {
    this.#yard = yard;
    this.#solver = solver;
    this.#cost = costOf(yard, chosen);
    const left = yard.kinds.map((_, kind) =>
      chosen.reduce((sum, sheet) => sum + (sheet.counts[kind] as number), 0),
    );
    const limits = yard.sizes.map((_, size) => chosen.filter((sheet) => sheet.size === size).length);
    this.#rest = partYard(yard, left, limits);
    this.#few = left.reduce((sum, count) => sum + count, 0) <= FEW;
    this.#area = Math.max(0, ...chosen.map((sheet) => this.#offcut(sheet)));
  }

  #offcut(sheet: Filled): number {
    const best = largestOffcut(treeOf(this.#yard, sheet), this.#yard.job.useful ?? 0);
    return best === undefined ? 0 : best.length * best.width;
  }

  best(): readonly Filled[] | undefined {
    const { yard } = this.#rest;
    const steps = stepsOf(yard, STEPS);
    const parts = steps.lies.map(({ kind, turned }) => {
      const { length, width, demand } = yard.kinds[kind] as Yard['kinds'][number];
      return { length: turned ? width : length, width: turned ? length : width, demand };
    });
    yard.sizes.forEach((size) => {
      const rests = (side: 'length' | 'width'): number[] =>
        trueSums(
          parts.map((part) => ({ size: part[side], count: part.demand })),
          size[side],
          steps.step,
        ).map((sum) => size[side] - sum);
      const along = rests('length');
      const across = rests('width');
      // whole strips: the largest that is left, by halving
      this.#halve(across, (width) => ({ length: size.length, width }));
      this.#halve(along, (length) => ({ length, width: size.width }));
      // pieces that parts lie beside on two sides
      const tries = this.#few ? FEW_TRIES : TRIES;
      const stride = this.#few ? 1 : Math.max(1, Math.ceil(along.length / (tries - 2 * STRIP_TRIES)));
      for (let n = 0; n < along.length && this.#tries < tries; n += stride) {
        const length = along[n] as number;
        // the least one that is larger than what is in hand, then the next
        for (let fitted = true; fitted && this.#tries < tries; ) {
          const width = across.findLast((one) => this.#larger(length, one));
          fitted = width !== undefined && this.#fits(length, width);
        }
      }
    });
    return this.#found;
  }

  /** The largest of a falling list of sides with which an offcut fits. */
  #halve(sides: readonly number[], shape: (side: number) => { length: number; width: number }): void {
    const open = sides.filter((side) => {
      const { length, width } = shape(side);
      return this.#larger(length, width);
    });
    let low = 0;
    let high = open.length;
    for (let n = 0; n < STRIP_TRIES && low < high; n++) {
      const middle = (low + high) >> 1;
      const { length, width } = shape(open[middle] as number);
      if (this.#fits(length, width)) high = middle;
      else low = middle + 1;
    }
  }

  /** Whether an offcut, given with a kerf, is useful and larger than the one in hand, and there is room for it. */
  #larger(length: number, width: number): boolean {
    const { kerf, useful } = this.#yard.job;
    const { yard } = this.#rest;
    const sides = Math.min(length, width) - kerf;
    const room = yard.sizes.reduce((sum, size) => sum + size.length * size.width * size.limit, 0);
    const parts = yard.kinds.reduce((sum, kind) => sum + kind.length * kind.width * kind.demand, 0);
    return (
      sides > 0 &&
      sides >= (useful ?? 0) - 1e-6 &&
      (length - kerf) * (width - kerf) > this.#area * (1 + 1e-6) &&
      length * width <= (room - parts) * (1 + 1e-9)
    );
  }

  /** A layout of the same cost: first by areas, which is quick where little is left over, then by prices where that is not too much work. */
  #laidOut(wider: Yard): Sheets | undefined {
    const cost = this.#cost;
    const tight = tightSheets(wider, cost, this.#solver, LIMITS);
    if (tight.found !== undefined || tight.none || this.#spent > WORK) return tight.found;
    const proof = cheaperSheets(wider, cost + 1e-3, [], [], this.#solver, LIMITS, { from: cost - 1e-3 });
    this.#spent += proof.work;
    return proof.sheets;
  }

  #fits(length: number, width: number): boolean {
    this.#tries++;
    const { kerf } = this.#yard.job;
    const { yard } = this.#rest;
    const extra = extraKind(this.#yard, { length: length - kerf, width: width - kerf });
    const wider = { ...yard, kinds: [...yard.kinds, extra] };
    const sheets = this.#laidOut(wider);
    if (sheets === undefined) return false;
    const found = sheets.sheets.map((sheet) => {
      const tree = withoutExtra(yard, wider, treeOf(wider, sheet));
      return widened(this.#yard, this.#rest, filledBy(yard, sheet.size, tree));
    });
    const area = Math.max(...found.map((sheet) => this.#offcut(sheet)));
    if (area > this.#area) {
      this.#area = area;
      this.#found = found.filter((sheet) => sheet.area > 0);
    }
    return true;
  }
}
