/**
 * Chests with a hinged lid or door, large enough for a child to get into.
 *
 * Source: EN 71-1, 4.14, for toys (a closed room of 0.03 m³ or more, every inside dimension 150 mm or more: two openings of 650 mm² each, at
 * least 150 mm apart), and the guide to toy chests of the US Consumer Product Safety Commission (a support holds the lid in any position;
 * vents stay open with the chest against a wall). Both are for chests of toys; that they are asked of every chest here is our caution, and
 * so is that the area of the two openings may be that of several smaller ones.
 */
import type { Diagnostic } from '../diagnostics.ts';
import { weightText } from '../instructions/index.ts';
import type { Bounds, HardwareUse, Part, Plan } from '../model/types.ts';
import { INCH, inches, mm } from '../units.ts';
import { type ClosedRoom, closedRooms } from './rooms.ts';
import { print } from './support.ts';
import type { Rule } from './types.ts';
import { ventsOf } from './vents.ts';

/** A room in which a child can be: volume in mm³, and each inside dimension, mm. */
const ROOM = { volume: 3e7, side: 150 };
/** Two openings, in all so large, and so far apart: 650 mm² or 1 sq in each, 150 mm or 6 in. */
const AIR = {
  inch: { area: 2 * INCH * INCH, apart: inches(6) },
  mm: { area: 1300, apart: mm(150) },
} as const;
const SOURCE = 'EN 71-1, 4.14, and the CPSC’s guide to toy chests';

/** What a hinge turns: the part that it is on, and what is built together with it. */
function turned(plan: Plan, { on }: HardwareUse): Part[] {
  const part = plan.parts.find(({ key }) => key === on?.split('.')[0]?.trim());
  if (part === undefined) return [];
  return part.assembly === undefined
    ? [part]
    : plan.parts.filter(({ assembly }) => assembly === part.assembly);
}

function around(parts: readonly Part[]): Bounds {
  const all = parts.flatMap(({ copies }) => copies.map(({ bounds }) => bounds));
  const of = (end: 'min' | 'max', pick: (...values: number[]) => number) =>
    ([0, 1, 2] as const).map((axis) => pick(...all.map((one) => one[end][axis])));
  return { min: of('min', Math.min), max: of('max', Math.max) } as unknown as Bounds;
}

/** True where two boxes meet or overlap, by so much play. */
const meet = (a: Bounds, b: Bounds, play: number): boolean =>
  ([0, 1, 2] as const).every((k) => a.min[k] <= b.max[k] + play && b.min[k] <= a.max[k] + play);

const largeEnough = ({ volume, min, max }: ClosedRoom): boolean =>
  volume >= ROOM.volume && ([0, 1, 2] as const).every((k) => max[k] - min[k] >= ROOM.side - 0.01);

/** Area of the openings into a room, 0 where all are nearer to each other than they should be. */
function airInto(plan: Plan, room: ClosedRoom): number {
  const { apart: least } = AIR[plan.edition.numbers.system];
  const near = ventsOf(plan).filter(({ at }) => meet({ min: at, max: at }, room, 40));
  const apart = near.some(({ at: a }) =>
    near.some(({ at: b }) => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]) >= least - 0.01),
  );
  return apart ? near.reduce((sum, { area }) => sum + area, 0) : 0;
}

/** Lids without a stay, and chests without air. */
export const lids: Rule = ({ plan }) => {
  const uses = plan.hardware.filter(({ item, on }) => item.kind === 'hinge' && on !== undefined);
  if (uses.length === 0) return [];
  const air = AIR[plan.edition.numbers.system];
  const rooms = closedRooms(plan).filter(largeEnough);
  const stays = plan.hardware.some(({ item }) => item.kind === 'stay');
  const told = new Set<string>();
  return uses.flatMap((use): Diagnostic[] => {
    const parts = turned(plan, use);
    const [part] = parts;
    if (part === undefined || told.has(part.key)) return [];
    const lid = around(parts);
    const under = rooms.filter((room) => meet(lid, room, 1));
    const [room] = under;
    if (room === undefined) return [];
    told.add(part.key);
    const level = lid.max[2] - lid.min[2] < Math.min(lid.max[0] - lid.min[0], lid.max[1] - lid.min[1]);
    const airless = under.find((one) => airInto(plan, one) < air.area - 0.01);
    const shared = { severity: 'warning' as const, origin: use.origin, parts: [part.key], source: SOURCE };
    return [
      ...(level && !stays
        ? [
            {
              ...shared,
              id: 'lid.stay',
              message: `expected a stay that holds "${nameOf(part)}"${weightOf(plan, parts)} wherever it is let go, since a child can get under it, found hinges alone`,
              hint: 'add an item with "kind: stay" to the hardware block, such as - { item: lid-stay, count: 2 }',
            },
          ]
        : []),
      ...(airless
        ? [
            {
              ...shared,
              id: 'lid.air',
              message: `expected ${areaText(plan, air.area)} or more of openings into the ${volumeText(plan, airless.volume)} behind "${nameOf(part)}", ${print(plan, air.apart)} or more apart, found ${areaText(plan, airInto(plan, airless))}`,
              hint: `bore two holes of ${plan.edition.numbers.system === 'inch' ? '1-1/4 in' : '30 mm'} where no wall, floor or board covers them, or leave a gap ${level ? 'under the lid' : 'beside it'}`,
            },
          ]
        : []),
    ];
  });
};

/** What turns, by its name in the plan: the door and not its first stile. */
const nameOf = (part: Part): string => part.assembly ?? part.name;

/** ` (about 6 kg)`, where the densities are known. */
function weightOf(plan: Plan, parts: readonly Part[]): string {
  let kilograms = 0;
  for (const part of parts) {
    const density = plan.stockList.species.find(({ key }) => key === part.species)?.density;
    if (density === undefined) return '';
    for (const { size } of part.copies)
      kilograms += ((size.length * size.width * size.thickness) / 1e9) * density;
  }
  return ` (about ${weightText(kilograms, plan)})`;
}

const areaText = (plan: Plan, area: number): string =>
  plan.edition.numbers.system === 'inch'
    ? `${(area / (INCH * INCH)).toFixed(1)} sq in`
    : `${Math.round(area)} mm²`;

const volumeText = (plan: Plan, volume: number): string =>
  plan.edition.numbers.system === 'inch'
    ? `${(volume / (12 * INCH) ** 3).toFixed(1)} cu ft`
    : `${Math.round(volume / 1e6)} litres`;
