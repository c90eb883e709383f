/** A whole shop folder: the shop file, stock lists, hardware and plans, and what has to agree between them. */
import { type Diagnostic, fault, type Outcome, sortDiagnostics } from '../diagnostics.ts';
import { quoted } from './node.ts';
import type { HardwareItem, PlanSource, Shop, ShopSource, StockList } from './types.ts';

export const SHOP_FILE = 'content/shop.yaml';
/** Boards and sheets that are there already, where a shop keeps such a list. */
const ON_HAND_FILE = 'content/on-hand.yaml';

/**
 * Reads a shop. `files` holds every file of its folder by path with forward slashes: texts with their text, pictures with an
 * empty text, so that their being there can be checked. All faults of all files are said in one run. Without a shop file that
 * can be read there is no value; plans, items and lists with faults are left out, and later phases may still check the rest.
 * The libraries for Markdown, YAML and schemas are loaded here, when first needed.
 */
export async function readShop(files: ReadonlyMap<string, string>): Promise<Outcome<ShopSource | undefined>> {
  const [{ readStock }, { readHardware }, { readPlan }, { readShopFile }] = await Promise.all([
    import('./stock.ts'),
    import('./hardware.ts'),
    import('./plan.ts'),
    import('./shop-file.ts'),
  ]);
  const diagnostics: Diagnostic[] = [];
  const paths = [...files.keys()].sort();

  const stockLists: StockList[] = [];
  const stockKeys: string[] = [];
  for (const file of paths) {
    const key = /^content\/stock\/([^/]+)\.ya?ml$/u.exec(file)?.[1];
    if (key === undefined) continue;
    stockKeys.push(key);
    const read = readStock(key, file, files.get(file) ?? '');
    diagnostics.push(...read.diagnostics);
    if (read.value) stockLists.push(read.value);
  }

  const regions = [...new Set(stockLists.map((list) => list.region))];
  const hardware: HardwareItem[] = [];
  for (const file of paths) {
    if (!/^content\/hardware\/[^/]+\.ya?ml$/u.test(file)) continue;
    const read = readHardware(file, files.get(file) ?? '', regions);
    diagnostics.push(...read.diagnostics);
    for (const item of read.value) {
      const first = hardware.find((one) => one.key === item.key);
      if (first === undefined) hardware.push(item);
      else diagnostics.push(keyTwice(item, first));
    }
  }

  const plans: PlanSource[] = [];
  const slugs: string[] = [];
  for (const file of paths) {
    const slug = /^content\/plans\/([^/]+)\/plan\.md$/u.exec(file)?.[1];
    if (slug === undefined) continue;
    slugs.push(slug);
    if (!/^[a-z0-9]+(?:-[a-z0-9]+)*$/u.test(slug)) diagnostics.push(slugForm(slug, file));
    const folder = file.slice(0, -'plan.md'.length);
    const beside = new Set(
      paths.filter((path) => path.startsWith(folder)).map((path) => path.slice(folder.length)),
    );
    const read = readPlan(slug, file, files.get(file) ?? '', beside);
    diagnostics.push(...read.diagnostics);
    if (read.value) plans.push(read.value);
  }

  const ownText = files.get(ON_HAND_FILE);
  const own =
    ownText === undefined ? undefined : (await import('./on-hand.ts')).readOnHand(ownText, stockLists);
  if (own) diagnostics.push(...own.diagnostics);
  const shop = readShopFile(SHOP_FILE, files.get(SHOP_FILE), stockKeys, slugs);
  diagnostics.push(...shop.diagnostics);
  diagnostics.push(...between(shop.value, plans));
  const said = sortDiagnostics(diagnostics);
  if (shop.value === undefined) return { value: undefined, diagnostics: said };
  const onHand = own && own.value.length > 0 ? { onHand: own.value } : {};
  return { value: { shop: shop.value, stockLists, hardware, ...onHand, plans }, diagnostics: said };
}

const keyTwice = (item: HardwareItem, first: HardwareItem): Diagnostic =>
  fault('hardware-file.key-twice', item.origin, {
    expected: 'each piece of hardware once',
    found: `"${item.key}" again, which stands in ${first.origin.file}, line ${first.origin.line}, already`,
    hint: `${item.key}-2`,
  });

const slugForm = (slug: string, file: string): Diagnostic =>
  fault(
    'plan.folder',
    { file, line: 1, column: 1 },
    {
      expected: 'a folder name in small letters, digits and hyphens, since it becomes the web address',
      found: `"${slug}"`,
      hint: slug
        .toLowerCase()
        .replace(/[^a-z0-9]+/gu, '-')
        .replace(/^-|-$/gu, ''),
    },
  );

/** What must agree between the files. */
function between(shop: Shop | undefined, plans: readonly PlanSource[]): Diagnostic[] {
  const said: Diagnostic[] = [];
  const numbers = new Map<number, PlanSource>();
  for (const plan of plans) {
    const { number, price, checkout } = plan.front;
    const other = number > 0 ? numbers.get(number) : undefined;
    if (other)
      said.push(
        fault('plan.number-twice', plan.frontOrigin, {
          expected: 'a number of its own for each plan',
          found: `number ${number}, which ${other.file} has already`,
          hint: `number: ${Math.max(...numbers.keys()) + 1}`,
        }),
      );
    else if (number > 0) numbers.set(number, plan);
    for (const { key, origin } of plan.variants) {
      const name = `${plan.slug}-${key}`;
      if (!plans.some(({ slug }) => slug === name)) continue;
      said.push(
        fault('variants.folder', origin, {
          expected: 'a variant whose files have names of their own',
          found: `${quoted(key)}, while there is a plan in content/plans/${name}`,
          hint: 'Give the variant another name.',
        }),
      );
    }
    if (shop && Object.keys(price).length > 0 && checkout === undefined && !(plan.slug in shop.checkout))
      said.push({
        id: 'plan.checkout-missing',
        severity: 'warning',
        origin: plan.frontOrigin,
        message: `expected a checkout link for "${plan.slug}" in content/shop.yaml, since it has a price, found none`,
        hint: `checkout:\n  ${plan.slug}: https://shop.example.com/${plan.slug}`,
      });
  }
  return said;
}
