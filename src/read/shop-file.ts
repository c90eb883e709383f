/** `content/shop.yaml`: who sells the plans, and how. */
import { type Diagnostic, fault, type Outcome } from '../diagnostics.ts';
import { check } from './check.ts';
import { readEditions } from './editions.ts';
import { excerptOf, plainText } from './excerpt.ts';
import { listed } from './forms.ts';
import { nearest } from './nearest.ts';
import { type Node, quoted, textOf, textsOf, valueAt } from './node.ts';
import { EDITION_KEYS, shop as schema } from './schemas/shop.ts';
import type { Shop } from './types.ts';
import { readYaml } from './yaml.ts';

/** Reads the shop file. `stockLists` and `slugs` are the keys of the lists and plans that are there. */
export function readShopFile(
  file: string,
  text: string | undefined,
  stockLists: readonly string[],
  slugs: readonly string[],
): Outcome<Shop | undefined> {
  const origin = { file, line: 1, column: 1 };
  if (text === undefined)
    return {
      value: undefined,
      diagnostics: [
        fault('shop.missing', origin, {
          expected: 'a shop file with the name, address, licence and safety texts',
          found: 'none',
          hint: 'name: Nettlefield Woodshop',
        }),
      ],
    };
  const yaml = readYaml(excerptOf(file, plainText(text)));
  const { node } = yaml;
  const diagnostics: Diagnostic[] = [...yaml.diagnostics];
  if (yaml.broken.includes('*')) return { value: undefined, diagnostics };
  diagnostics.push(
    ...check(node, schema, 'shop', { called: 'the shop file', origin }, yaml.broken).map(withPlace),
  );
  const checkout = links(valueAt(node, 'checkout'), slugs);
  diagnostics.push(...checkout.diagnostics);
  const editions = readEditions(
    yaml.broken.includes('editions') ? undefined : valueAt(node, 'editions'),
    stockLists,
    file,
  );
  if (!yaml.broken.includes('editions')) diagnostics.push(...editions.diagnostics);
  const email = textOf(node, 'email');
  const value: Shop = {
    name: textOf(node, 'name') ?? '',
    address: textOf(node, 'address') ?? '',
    ...(email === undefined ? {} : { email }),
    url: textOf(node, 'url') ?? '',
    currency: textOf(node, 'currency') ?? 'USD',
    strapline: textOf(node, 'strapline') ?? '',
    about: textOf(node, 'about') ?? '',
    licence: textOf(node, 'licence') ?? '',
    safety: textsOf(node, 'safety').map((line) => line.text),
    checkout: checkout.links,
    theme: textOf(node, 'theme') ?? 'handbook',
    editions: editions.editions,
  };
  return { value, diagnostics };
}

/** A key of an edition that stands at the head of the file belongs under an edition: it isn't left out. */
function withPlace(said: Diagnostic): Diagnostic {
  const key = /, found "([a-z ]+)"$/u.exec(said.message)?.[1];
  const own = said.id === 'shop.key-unknown' && key !== undefined && EDITION_KEYS.includes(key);
  return own && said.origin.column === 1 ? { ...said, hint: `editions:\n  imperial: { ${key}: … }` } : said;
}

/** Checkout links by plan, each for a plan that exists. */
function links(
  node: Node | undefined,
  slugs: readonly string[],
): { readonly links: Record<string, string>; readonly diagnostics: readonly Diagnostic[] } {
  const found: [string, string][] = [];
  const diagnostics: Diagnostic[] = [];
  for (const { key, value } of node?.kind === 'map' ? node.entries : []) {
    if (value.kind === 'text') found.push([key.text, value.text]);
    if (slugs.includes(key.text)) continue;
    diagnostics.push(
      fault('shop.plan-unknown', key.origin, {
        expected: slugs.length === 0 ? 'a plan in content/plans' : `a plan of the shop: ${listed(slugs)}`,
        found: quoted(key.text),
        hint: nearest(key.text, slugs) ?? 'Leave the link out.',
      }),
    );
  }
  return { links: Object.fromEntries(found), diagnostics };
}
