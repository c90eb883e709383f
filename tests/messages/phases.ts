/** The phases a case can ask for: each takes the files of a shop and gives what it has to say. */
import { cutList } from '../../src/cutting/cut-list.ts';
import { loadSolver } from '../../src/cutting/highs.ts';
import { layOutPlan } from '../../src/cutting/layouts.ts';
import { type Diagnostic, mergeEditions, sortDiagnostics } from '../../src/diagnostics.ts';
import { writeInstructions } from '../../src/instructions/index.ts';
import { findJoinery } from '../../src/joinery/index.ts';
import { buildPlan } from '../../src/model/plan.ts';
import type { Plan } from '../../src/model/types.ts';
import { hardwareIn } from '../../src/read/hardware.ts';
import { readShop } from '../../src/read/shop.ts';
import type { HardwareItem, ShopSource } from '../../src/read/types.ts';
import { inVariants, ofVariant } from '../../src/read/variants.ts';
import { findingsOf } from '../proof/findings.ts';

export type Phase = (files: ReadonlyMap<string, string>) => Promise<readonly Diagnostic[]>;

/** Sheets for the cases about cutting: sold up to 4 × 8 ft (1220 × 2440 mm), and one larger piece of each on hand. */
const PLYWOOD: readonly (readonly [file: string, item: string])[] = [
  [
    'content/stock/inch.yaml',
    '  ply-3/4:\n    thickness: 3/4 in\n    sheets:\n      4 x 8 ft: { birch: 60 }\n      4 x 4 ft: { birch: 34 }\n',
  ],
  [
    'content/stock/metric.yaml',
    '  ply-18:\n    stands for: [ply-3/4]\n    thickness: 18 mm\n    sheets:\n      1220 x 2440 mm: { birch: 62 }\n',
  ],
];
const OWN = (stock: string) =>
  `  - { stock: ${stock}, species: birch, length: 110 in, width: 49 in, count: 1 }\n`;
const ON_HAND = `pieces:\n${OWN('ply-3/4')}${OWN('ply-18')}`;

function withPlywood(files: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  const more = new Map(files);
  for (const [file, item] of PLYWOOD)
    more.set(
      file,
      `${more.get(file)}${item}`.replace('\nspecies:\n', '\nspecies:\n  birch: { name: Birch plywood }\n'),
    );
  more.set('content/on-hand.yaml', ON_HAND);
  return more;
}

/** Fittings for the cases about the proof: a bar that is drawn, a hinge and a knob with the wood that they need, and a stay. */
const FITTINGS = `bar:
  name: Towel bar
  length: 3 in | 75 mm
  width: 1/2 in | 12 mm
  thickness: 1 in | 25 mm
  package: 1
  price: { USD: 9, EUR: 8 }
hinge:
  name: Hinge
  kind: hinge
  wood: 5/8 in | 16 mm
  package: 2
  price: { USD: 6.40 }
knob:
  name: Knob
  wood: 1 in | 25 mm
  package: 1
  price: { USD: 4 }
stay:
  name: Stay
  kind: stay
  package: 1
  price: { USD: 12 }
`;

export const PHASES: Readonly<Record<string, Phase>> = {
  /** Reading alone. */
  read: async (files) => (await readShop(files)).diagnostics,
  /** Reading, then every plan in every edition and variant. */
  plan: async (files) => {
    const { value: shop, diagnostics } = await readShop(files);
    if (shop === undefined) return diagnostics;
    const built = shop.plans.flatMap((plan) =>
      inVariants(plan).flatMap((one) =>
        shop.shop.editions.flatMap((edition) => ofVariant(one, buildPlan(one, edition, shop).diagnostics)),
      ),
    );
    const variants = (file: string) => shop.plans.find((plan) => plan.file === file)?.variants.length ?? 1;
    return sortDiagnostics([...diagnostics, ...mergeEditions(built, shop.shop.editions.length, variants)]);
  },
  /** Reading, then cut list and layouts of every plan in every edition; the shop sells plywood too. */
  cuts: async (files) => {
    const solver = await loadSolver();
    return ofEachPlan(withPlywood(files), (plan) => layOutPlan(plan, cutList(plan), solver).diagnostics);
  },
  /** Reading, then the proof of every plan in every edition, without layouts and solids; the shop has plywood and fittings too. */
  proof: (files) =>
    ofEachPlan(
      new Map([...withPlywood(files), ['content/hardware/fittings.yaml', FITTINGS]]),
      (plan, hardware) =>
        [...findJoinery(plan, hardware).diagnostics, ...findingsOf(plan, hardware)].filter(
          ({ severity }) => severity !== 'caution',
        ),
    ),
  /** Reading, then the words of every plan in every edition. */
  words: (files) =>
    ofEachPlan(files, (plan, hardware, { shop }) => {
      const joinery = findJoinery(plan, hardware);
      const words = writeInstructions({ plan, cutList: cutList(plan), joinery, shop });
      return words.diagnostics.map((one) => ({ ...one, edition: plan.edition.key }));
    }),
};

/** Reading, and what is said of each plan that could be built, in every edition. */
async function ofEachPlan(
  files: ReadonlyMap<string, string>,
  sayOf: (plan: Plan, hardware: readonly HardwareItem[], shop: ShopSource) => readonly Diagnostic[],
): Promise<readonly Diagnostic[]> {
  const { value: shop, diagnostics } = await readShop(files);
  if (shop === undefined) return diagnostics;
  const said = shop.plans.flatMap((source) =>
    shop.shop.editions.flatMap((edition) => {
      const hardware = hardwareIn(shop.hardware, edition.numbers.system);
      const { value: plan, diagnostics: own } = buildPlan(source, edition, { ...shop, hardware });
      return plan === undefined ? own : [...own, ...sayOf(plan, hardware, shop)];
    }),
  );
  return sortDiagnostics([...diagnostics, ...mergeEditions(said, shop.shop.editions.length)]);
}
