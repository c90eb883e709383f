/**
 * Fasteners so near each other that they split the wood between them: measured in each board that they pass or end in, along its grain and
 * across it.
 *
 * Source: EN 1995-1-1, Table 8.2, as the LVL Handbook (2025), Table 5.1, gives it too. Of the spacings there, which grow with the direction of
 * the load, the least are taken, since what pulls at a piece of furniture isn't known: with bored holes 4 diameters along the grain and 3
 * across it, without (nails) 5 both ways, and 0.85 of these where a sheet is joined (8.3.1.3). Screws in pockets stand between the two: the
 * bit bores for them in the first board, in the second their points cut the way. 4 both ways lets two stand in a rail of 1-1/2 in, as is
 * usual (common practice, no source).
 * That what lies askew to the grain is measured by the ellipse between the two is our own.
 */
import type { Diagnostic } from '../diagnostics.ts';
import { screwDiameter } from '../joinery/cuts.ts';
import type { JointPlace } from '../joinery/types.ts';
import type { Copy, Joint, Part, Plan, Vec3 } from '../model/types.ts';
import { add, dot, norm, scale, subtract } from '../resolve/vectors.ts';
import { allCopies, print } from './support.ts';
import type { Rule } from './types.ts';

/** Spacings in diameters: along the grain, across it. */
const BORED = { along: 4, across: 3 } as const;
const UNBORED = { along: 5, across: 5 } as const;
const POCKETS = { along: 4, across: 4 } as const;
/** What a joint of a sheet to a board needs of these. */
const OF_SHEETS = 0.85;
/** Wire of a nail whose size the hardware doesn't say: of 15 gauge (check values T5.2), mm. */
const NAIL = 1.83;
/** Fasteners that turn by more than this from each other aren't in a row: cosine of 25 degrees. */
const ALIKE = 0.9;
/** Play of what is printed, mm, and how deep two fasteners have to lie beside each other. */
const [PLAY, BESIDE] = [0.1, 2];
/** More than any piece of furniture has. */
const MOST = 4000;

/** The stretch of a fastener in one board. */
interface Shank {
  readonly place: JointPlace;
  readonly board: { readonly copy: Copy; readonly part: Part };
  readonly from: Vec3;
  readonly to: Vec3;
  readonly axis: Vec3;
  readonly diameter: number;
  readonly needs: { readonly along: number; readonly across: number };
}

interface Crowded {
  readonly one: Shank;
  readonly other: Shank;
  /** From the one to the other, square to both. */
  readonly apart: Vec3;
  readonly found: number;
  readonly needed: number;
}

/** One finding a pair of joints: where the most is missing. */
export const crowding: Rule = ({ plan, joinery }) => {
  const order = new Map(plan.joints.map((joint, index) => [joint, index]));
  const rank = ({ place }: Shank): number => order.get(place.joint) ?? 0;
  const worst = new Map<string, Crowded>();
  for (const shanks of byBoard(plan, joinery.places).values())
    for (const pair of crowdedIn(shanks)) {
      if (print(plan, pair.found) === print(plan, pair.needed)) continue;
      const [one, other] =
        rank(pair.one) <= rank(pair.other) ? [pair.one, pair.other] : [pair.other, pair.one];
      const key = `${rank(one)} ${rank(other)}`;
      const before = worst.get(key);
      if (!before || pair.found / pair.needed < before.found / before.needed - 1e-6)
        worst.set(key, { ...pair, one, other });
    }
  return [...worst.values()]
    .sort((a, b) => rank(a.other) - rank(b.other) || rank(a.one) - rank(b.one))
    .map((pair) => said(plan, pair));
};

function byBoard(plan: Plan, places: readonly JointPlace[]): Map<string, Shank[]> {
  const boards = new Map(allCopies(plan).map((board) => [board.copy.id, board]));
  const found = new Map<string, Shank[]>();
  let count = 0;
  for (const place of places) {
    const { contact, fastener, joint, points = [] } = place;
    const ends = [boards.get(contact.first), boards.get(contact.second)];
    const [first, second] = ends;
    if (!first || !second || fastener?.length === undefined) continue;
    const sheet = ends.some((board) => board?.part.stock.sheets !== undefined);
    const diameter =
      fastener.size === undefined && joint.by === 'nails' ? NAIL : screwDiameter(fastener.size);
    const table = joint.by === 'screws' ? BORED : joint.by === 'pocket screws' ? POCKETS : UNBORED;
    const times = diameter * (sheet ? OF_SHEETS : 1);
    const needs = { along: table.along * times, across: table.across * times };
    for (const { at, axis, tip } of points) {
      if (tip === undefined || count++ > MOST) continue;
      const head = add(tip, scale(axis, -fastener.length));
      const shared = { place, axis, diameter, needs };
      for (const shank of [
        { ...shared, board: first, from: head, to: at },
        { ...shared, board: second, from: at, to: tip },
      ])
        found.set(shank.board.copy.id, [...(found.get(shank.board.copy.id) ?? []), shank]);
    }
  }
  return found;
}

/** All pairs in one board that are too near each other. */
function crowdedIn(shanks: readonly Shank[]): Crowded[] {
  return shanks.flatMap((one, i) =>
    shanks.slice(i + 1).flatMap((other): Crowded[] => {
      if (Math.abs(dot(one.axis, other.axis)) < ALIKE || !beside(one, other)) return [];
      const way = subtract(other.to, one.to);
      const apart = subtract(way, scale(one.axis, dot(way, one.axis)));
      const found = norm(apart);
      // Two in one place meet, which is another finding.
      if (found < Math.max(one.diameter, other.diameter)) return [];
      const needed = neededIn(one, other, apart);
      return found < needed - PLAY ? [{ one, other, apart, found, needed }] : [];
    }),
  );
}

/** True where two lie beside each other over some depth. */
function beside(one: Shank, other: Shank): boolean {
  const spans = [one, other].map(({ from, to }) => {
    const ends = [dot(from, one.axis), dot(to, one.axis)];
    return { low: Math.min(...ends), high: Math.max(...ends) };
  });
  return Math.min(...spans.map(({ high }) => high)) - Math.max(...spans.map(({ low }) => low)) > BESIDE;
}

/** Share of the way from one fastener to the other that runs along the grain: 0 across it, 1 along it. */
const alongGrain = ({ board: { copy } }: Shank, apart: Vec3): number =>
  Math.min(1, Math.abs(dot(apart, copy.frame.length)) / norm(apart));

/** The least distance in the direction of `apart`, mm. Sheets have grain both ways. */
function neededIn(one: Shank, other: Shank, apart: Vec3): number {
  const along = Math.max(one.needs.along, other.needs.along);
  const across = Math.max(one.needs.across, other.needs.across);
  const share = one.board.part.stock.sheets === undefined ? alongGrain(one, apart) : 0;
  return 1 / Math.hypot(share / along, Math.sqrt(1 - share * share) / across);
}

function said(plan: Plan, { one, other, apart, found, needed }: Crowded): Diagnostic {
  const [a, b] = [one.place.joint, other.place.joint];
  const { part } = one.board;
  const share = alongGrain(one, apart);
  const way = share > 0.95 ? 'along' : share < 0.3 ? 'across' : 'askew to';
  const where = part.stock.sheets === undefined ? `${way} the grain of` : 'in';
  const joined = ({ join, to }: Joint): string => `"${join}" to "${to}"`;
  const whose =
    a === b
      ? `${a.by} of ${joined(a)}`
      : a.by === b.by
        ? `${a.by} of ${joined(b)} and of ${joined(a)}`
        : `${b.by} of ${joined(b)} and ${a.by} of ${joined(a)}`;
  return {
    id: 'joint.crowded',
    severity: 'warning',
    origin: b.origin,
    message: `expected ${whose} ${print(plan, needed)} or more apart ${where} "${part.key}", found ${print(plan, found)}`,
    hint:
      one.place === other.place
        ? `write a smaller count; or "least spacing: ${upwards(plan, needed)}", where only some of the places are too short for all of them`
        : 'write a smaller count, or move one of the rows with "set back"',
    parts: [...new Set([a.join, a.to, b.join, b.to])],
    source: 'EN 1995-1-1, Table 8.2',
  };
}

/** The next full millimetre or eighth of an inch, as a maker would write it. */
function upwards(plan: Plan, length: number): string {
  const step = plan.edition.numbers.system === 'inch' ? 25.4 / 8 : 1;
  return print(plan, Math.ceil(length / step - 0.01) * step).replace('″', ' in');
}
