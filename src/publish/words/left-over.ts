/** What the shopping list says beside what to buy: what is on hand, how much becomes parts, and which pieces are worth keeping. */
import { KEPT, keptPieces, type StockUse, stockUses } from '../../cutting/left-over.ts';
import type { ShoppingRow } from '../../cutting/types.ts';
import type { StockItem } from '../../read/types.ts';
import type { Length } from '../../units.ts';
import { mm, printed, sizeText } from '../../units.ts';
import type { FinishedPlan } from '../types.ts';

/** A piece left over that is worth keeping. */
export interface LeftPiece {
  readonly length: Length;
  readonly width: Length;
  readonly count: number;
}

/** What becomes of one stock. */
export interface LeftRow {
  /** `2×4`, `3/4 birch plywood`. */
  readonly name: string;
  /** Whole per cents of what is bought, `62 %`; together a hundred. */
  readonly parts: string;
  readonly waste: string;
  readonly kept: string;
  /** The largest first; none where nothing is worth keeping. */
  readonly pieces: readonly LeftPiece[];
}

/** What becomes of the wood. */
export interface LeftOver {
  /** What the columns say, and from which size on a piece is called worth keeping; empty where nothing is bought. */
  readonly opening: string;
  readonly rows: readonly LeftRow[];
  /** `1 of 60 in 2×4`: boards and pieces of sheets that are there already, as far as the layouts use them. */
  readonly onHand: readonly string[];
}

type Computed = Pick<FinishedPlan, 'plan' | 'cutList' | 'layouts'>;

/** A stock with its species where the plan uses more than one: `1×4 pine`, `3/4 birch plywood`. */
export function stockName(
  { plan, cutList }: Omit<Computed, 'layouts'>,
  stock: StockItem,
  species: string,
): string {
  const { label } = stock;
  if (new Set(cutList.rows.map((row) => row.species)).size < 2) return label;
  const name = plan.stockList.species.find(({ key }) => key === species)?.name.toLowerCase() ?? species;
  // of a sheet the species stands before the word for it, and that word isn't said twice
  const sheet = stock.sheets === undefined ? undefined : /^(.* )(\p{L}+)$/u.exec(label);
  if (!sheet) return `${label} ${name}`;
  const [, before, word] = sheet as unknown as [string, string, string];
  return name.endsWith(word.toLowerCase()) ? `${before}${name}` : `${before}${name} ${word}`;
}

/** Said of boards that are bought beside those of the layouts; nothing where there are none. */
export const extraText = (extra: number | undefined): string =>
  extra === undefined || extra === 0 ? '' : `${extra} of them for knots and checks`;

/**
 * Said of boards that the yard cuts, so that the shopping list is all that is needed there: `have them cut at 64 1/2″`, where they aren't
 * cut alike `have 2 cut at 64 1/2″ and 1 at 59 5/16″`, a second cut from the first, `48″ further`; nothing of other boards.
 */
export function yardText({ layouts, plan }: Computed, row: ShoppingRow): string {
  const { numbers } = plan.edition;
  const counts = new Map<string, number>();
  for (const board of layouts.boards) {
    const cuts = board.cuts.filter((cut) => cut.yard);
    const own = board.stock.key === row.stock?.key && board.species === row.species;
    if (!own || board.own || board.lengthLabel !== row.unit || cuts.length === 0) continue;
    const said = cuts
      .map(({ setting }, index) => `${sizeText(printed(setting, numbers))}${index > 0 ? ' further' : ''}`)
      .join(', ');
    counts.set(said, (counts.get(said) ?? 0) + board.count);
  }
  const groups = [...counts];
  const [only] = groups;
  if (only === undefined) return '';
  if (groups.length === 1 && only[1] === row.quantity)
    return `have ${row.quantity === 1 ? 'it' : 'them'} cut at ${only[0]}`;
  return `have ${groups.map(([said, count], index) => `${count}${index === 0 ? ' cut' : ''} at ${said}`).join(' and ')}`;
}

/** What is used, kept and wasted in a plan. */
export function leftOver(finished: Computed): LeftOver {
  const { layouts, plan } = finished;
  const uses = stockUses(layouts);
  const kept = keptPieces(layouts);
  const called = (key: string, species: string): string => {
    const stock = plan.stockList.items.find((item) => item.key === key);
    return stock === undefined ? key : stockName(finished, stock, species);
  };
  return {
    opening: uses.length === 0 ? '' : openingText(uses, plan.edition.numbers.system),
    rows: uses.map((use) => ({
      name: called(use.stock, use.species),
      ...sharesOf(use),
      pieces: kept
        .filter(({ stock, species }) => stock === use.stock && species === use.species)
        .map(({ length, width, count }) => ({ length: mm(length), width: mm(width), count })),
    })),
    onHand: onHandOf(layouts).map(
      ({ stock, species, label, count }) => `${count} of ${called(stock.key, species)}, ${label}`,
    ),
  };
}

/** What the layouts take from what is there already; entries of one size together. */
function onHandOf(layouts: Computed['layouts']) {
  const boards = layouts.boards.map((board) => ({ ...board, sold: board.lengthLabel }));
  const sheets = (layouts.sheets ?? []).map((sheet) => ({ ...sheet, sold: sheet.sizeLabel }));
  const found: { stock: StockItem; species: string; label: string; count: number }[] = [];
  for (const { stock, species, sold, count, own } of [...boards, ...sheets]) {
    if (!own) continue;
    const label = sold.replace(/, on hand.*$/u, '');
    const known = found.find(
      (one) => one.stock.key === stock.key && one.species === species && one.label === label,
    );
    if (known) known.count += count;
    else found.push({ stock, species, label, count });
  }
  return found;
}

/** Whole per cents that come to a hundred together: waste is what the other two leave. */
function sharesOf({ bought, parts, kept }: StockUse): { parts: string; waste: string; kept: string } {
  const [used, over] = [Math.round((parts / bought) * 100), Math.round((kept / bought) * 100)];
  const share = (value: number): string => `${value}\u00a0%`;
  return { parts: share(used), waste: share(Math.max(0, 100 - used - over)), kept: share(over) };
}

/** How the shares are meant. The limits are those of `KEPT`, in round sizes. */
function openingText(uses: readonly StockUse[], system: 'inch' | 'mm'): string {
  const from = (limit: number): string =>
    system === 'inch' ? `about ${Math.round(limit / 25.4)} in` : `${limit} mm`;
  const kinds = [
    ...(uses.some(({ sheet }) => !sheet) ? [`boards from ${from(KEPT.board)} long`] : []),
    ...(uses.some(({ sheet }) => sheet) ? [`pieces of sheets from ${from(KEPT.sheet)} wide`] : []),
  ];
  return `What becomes of the wood you buy. Waste is kerfs, trims and pieces too small to use again; worth keeping are ${kinds.join(' and ')}.`;
}
