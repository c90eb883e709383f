/** Joints and hardware with their parts and items looked up. */
import type { Diagnostic } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import { quoted } from '../read/node.ts';
import type { Edition, HardwareItem, HardwareSource, ShopSource, StockList, Written } from '../read/types.ts';
import { placeIn } from '../read/written.ts';
import { FACES } from '../resolve/directions.ts';
import { either, nameHint } from '../resolve/names.ts';
import { sideOf } from '../resolve/stock.ts';
import type { HardwarePlace, ResolvedPlan } from '../resolve/types.ts';
import type { HardwareUse, Joint } from './types.ts';

/** What looking up names needs. `counts` are absent where resolving met an error; names are checked all the same. */
export interface Names {
  readonly source: ResolvedPlan['source'];
  readonly edition: Edition;
  readonly stockList: StockList | undefined;
  readonly shop: ShopSource;
  readonly report: (diagnostic: Diagnostic) => void;
}

/** True where `written` names a part; else a report. */
function isPart(names: Names, written: Written): boolean {
  const keys = names.source.parts.map((part) => part.key);
  const key = written.text.trim();
  if (keys.includes(key)) return true;
  const built = names.source.parts.flatMap((part) => (part.assembly?.text.trim() === key ? [part.key] : []));
  names.report(
    fault('name.unknown', written.origin, {
      expected: 'the name of a part',
      found: built.length > 0 ? `${quoted(written.text)}, which is an assembly` : quoted(written.text),
      ...(built.length > 0
        ? { hint: `name which of its parts meet: ${either(built)}` }
        : nameHint(key, keys)),
    }),
  );
  return false;
}

function itemOf(names: Names, written: Written): HardwareItem | undefined {
  const name = sideOf(written, names.edition);
  const item = names.shop.hardware.find((one) => one.key === name.text);
  if (!item) {
    const keys = names.shop.hardware.map((one) => one.key);
    names.report(
      fault('hardware.unknown', name.origin, {
        expected: 'the key of an item in content/hardware',
        found: quoted(name.text),
        ...nameHint(name.text, keys),
      }),
    );
    return undefined;
  }
  const here = [names.edition.key, names.stockList?.key, names.stockList?.region, names.stockList?.currency];
  if (item.regions.length > 0 && !item.regions.some((region) => here.includes(region)))
    names.report({
      id: 'hardware.region',
      severity: 'warning',
      origin: name.origin,
      message: `expected an item sold where the ${names.edition.name} edition buys, found "${item.key}", sold in ${item.regions.join(', ')}`,
      hint: 'name one for each edition: left | right',
    });
  return item;
}

/** The joints whose names are all known, in the file's order. */
export function jointsOf(
  names: Names,
  resolved?: Pick<ResolvedPlan, 'jointCounts' | 'jointSetBacks' | 'jointSpacings'>,
): readonly Joint[] {
  return names.source.joints.flatMap((joint, index): Joint[] => {
    const known = [joint.join, joint.to].map((written) => isPart(names, written));
    const item = joint.with && itemOf(names, joint.with);
    const by = joint.by.value;
    if (item?.fits && item.fits.joint !== by && by !== 'glue')
      names.report(
        fault('joint.fastener', joint.with?.origin ?? joint.origin, {
          expected: `an item for ${by}`,
          found: `"${item.key}", which is for ${item.fits.joint}`,
          ...fastenerHint(names, by),
        }),
      );
    if (by === 'glue')
      for (const [key, what, written] of [
        ['with', 'fastener', joint.with],
        ['count', 'count', joint.count],
        ['set back', 'set back', joint.setBack],
        ['least spacing', 'least spacing', joint.leastSpacing],
      ] as const)
        if (written)
          names.report(
            fault('joint.glue', written.origin, {
              expected: `no ${what} with glue`,
              found: quoted(written.text),
              hint: `leave ${key} out`,
            }),
          );
    if (known.includes(false) || (joint.with && !item)) return [];
    const count = resolved?.jointCounts[index];
    const setBack = resolved?.jointSetBacks[index];
    const leastSpacing = resolved?.jointSpacings[index];
    return [
      {
        join: joint.join.text.trim(),
        to: joint.to.text.trim(),
        by,
        ...(count === undefined ? {} : { count }),
        ...(joint.from === undefined ? {} : { from: joint.from.value }),
        ...(setBack === undefined ? {} : { setBack }),
        ...(leastSpacing === undefined ? {} : { leastSpacing }),
        ...(item ? { with: item } : {}),
        origin: joint.origin,
      },
    ];
  });
}

function fastenerHint(names: Names, by: string): { readonly hint?: string } {
  const fit = names.shop.hardware.filter((one) => one.fits?.joint === by).map((one) => one.key);
  return fit.length === 0 ? {} : { hint: `for ${by}: ${either([...new Set(fit)].sort().slice(0, 6))}` };
}

/** The hardware whose names are all known, in the file's order. */
export function hardwareOf(
  names: Names,
  resolved?: Pick<ResolvedPlan, 'hardwareCounts' | 'hardwarePlaces'>,
): readonly HardwareUse[] {
  return names.source.hardware.flatMap((use, index): HardwareUse[] => {
    const item = itemOf(names, use.item);
    const placed = use.on === undefined || isPlace(names, use.on);
    if (!item || !placed) return [];
    return [
      {
        item,
        count: resolved?.hardwareCounts[index] ?? 0,
        ...(use.on === undefined ? {} : { on: use.on.text.trim() }),
        ...placeOf(use, resolved?.hardwarePlaces[index]),
        ...(use.note === undefined ? {} : { note: use.note }),
        origin: use.origin,
      },
    ];
  });
}

function placeOf(use: HardwareSource, place: HardwarePlace = { at: {} }): Pick<HardwareUse, 'place'> {
  const { at, setBack, runs, knuckle } = use;
  const origin = at?.origin ?? setBack?.origin ?? (runs ?? knuckle)?.origin;
  if (origin === undefined) return {};
  return {
    place: {
      ...place,
      ...(runs === undefined ? {} : { runs: runs.value }),
      ...(knuckle === undefined ? {} : { knuckle: knuckle.value }),
      origin,
    },
  };
}

/** True where the text is a part, or a part and one of its faces: `lid.back`. */
function isPlace(names: Names, written: Written): boolean {
  const dot = written.text.indexOf('.');
  const part = dot < 0 ? written : { ...written, text: written.text.slice(0, dot) };
  if (!isPart(names, part)) return false;
  if (dot < 0) return true;
  const face = written.text.slice(dot + 1).trim();
  if ((FACES as readonly string[]).includes(face)) return true;
  names.report(
    fault('name.unknown', placeIn(written, dot + 1), {
      expected: `one of ${either(FACES)} after "${part.text}."`,
      found: `"${face}"`,
      ...nameHint(face, FACES),
    }),
  );
  return false;
}
