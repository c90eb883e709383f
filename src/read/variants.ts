/** The `variants` block: the same piece in other sizes, each a name and the sizes it puts in the place of the plan's own. */
import { type Diagnostic, fault } from '../diagnostics.ts';
import { check } from './check.ts';
import { listed } from './forms.ts';
import { nearest } from './nearest.ts';
import { type Entry, found, type Node, quoted, written } from './node.ts';
import * as schemas from './schemas/blocks.ts';
import { KEY } from './schemas/stock.ts';
import type { PlanSource, SizeSource, VariantSource } from './types.ts';

/** Each is computed and drawn in every edition; more than this is a mistake, or a plan of its own. */
const MOST = 6;
const LONGEST_KEY = 30;
const OUTLINE = ['width', 'depth', 'height'] as const;

const HINT = 'standard:\nlong: { outline.width: 60 in | 1500 mm }';

/**
 * One `variants` block. `sizes` are the names it may override, those of the plan's `sizes` blocks without the outline; none where
 * they have faults of their own, so that no name is called unknown that is only written wrong.
 */
export function readVariants(
  node: Node,
  sizes: readonly string[] | undefined,
): { readonly variants: readonly VariantSource[]; readonly diagnostics: readonly Diagnostic[] } {
  if (node.kind !== 'map')
    return {
      variants: [],
      diagnostics: [
        fault('variants.value', node.origin, {
          expected: 'names of variants, each with a colon',
          found: found(node),
          hint: HINT,
        }),
      ],
    };
  const diagnostics: Diagnostic[] = [];
  const names = sizes && [...OUTLINE.map((size) => `outline.${size}`), ...sizes];
  const variants = node.entries.flatMap((entry) => {
    const read = variantOf(entry, names);
    diagnostics.push(...read.diagnostics);
    return read.variant ?? [];
  });
  const [first] = node.entries;
  if (first !== undefined && (node.entries.length < 2 || node.entries.length > MOST))
    diagnostics.push(
      fault('variants.count', first.key.origin, {
        expected: `two to ${MOST} variants; a plan in one size needs no "variants" block`,
        found: `${node.entries.length}`,
        hint: node.entries.length < 2 ? HINT : 'Make a plan of its own of some of them.',
      }),
    );
  if (diagnostics.length === 0) diagnostics.push(...alike(variants));
  return { variants, diagnostics };
}

function variantOf(
  { key, value }: Entry,
  names: readonly string[] | undefined,
): { readonly variant?: VariantSource; readonly diagnostics: readonly Diagnostic[] } {
  const diagnostics: Diagnostic[] = [];
  if (!KEY.test(key.text) || key.text.length > LONGEST_KEY)
    diagnostics.push(
      fault('variants.name', key.origin, {
        expected: `a name for a variant in at most ${LONGEST_KEY} small letters, digits and hyphens, since it becomes part of file names`,
        found: quoted(key.text),
        hint: 'long',
      }),
    );
  // A variant without a value is the plan as its `sizes` have it.
  if (value.kind === 'empty')
    return { variant: { key: key.text, origin: key.origin, sizes: [] }, diagnostics };
  const owner = { called: `the variant "${key.text}"`, origin: key.origin };
  const faults = check(value, schemas.variant, 'variants', owner);
  diagnostics.push(...faults);
  if (value.kind !== 'map' || faults.length > 0) return { diagnostics };
  for (const size of value.entries) {
    if (names === undefined || names.includes(size.key.text)) continue;
    diagnostics.push(
      fault('variants.size-unknown', size.key.origin, {
        expected: 'a size of the plan, which the variant gives another value',
        found: quoted(size.key.text),
        hint: nearest(size.key.text, names) ?? `one of ${listed(names.slice(0, 12))}`,
      }),
    );
  }
  const sizes = value.entries.flatMap((size): SizeSource[] =>
    size.value.kind === 'text'
      ? [{ name: size.key.text, nameOrigin: size.key.origin, formula: written(size.value) }]
      : [],
  );
  return { variant: { key: key.text, origin: key.origin, sizes }, diagnostics };
}

/** Two variants of the same sizes would sell the same plan twice. */
function alike(variants: readonly VariantSource[]): Diagnostic[] {
  const seen = new Map<string, VariantSource>();
  return variants.flatMap((variant) => {
    const sizes = variant.sizes.map(({ name, formula }) => `${name}: ${formula.text}`).sort();
    const key = JSON.stringify(sizes);
    const first = seen.get(key);
    if (first === undefined) {
      seen.set(key, variant);
      return [];
    }
    return [
      fault('variants.alike', variant.origin, {
        expected: 'other sizes for each variant',
        found: `those of ${quoted(first.key)} in line ${first.origin.line}`,
      }),
    ];
  });
}

/** The plan in each of its variants, in the file's order: its `sizes` as the variant has them. The plan itself where it has none. */
export function inVariants(source: PlanSource): readonly PlanSource[] {
  if (source.variants.length === 0) return [source];
  return source.variants.map((variant) => {
    const own = new Map(variant.sizes.map(({ name, formula }) => [name, formula]));
    const { width, depth, height } = source.outline;
    return {
      ...source,
      variant,
      outline: {
        width: own.get('outline.width') ?? width,
        depth: own.get('outline.depth') ?? depth,
        height: own.get('outline.height') ?? height,
      },
      sizes: source.sizes.map((size) => ({ ...size, formula: own.get(size.name) ?? size.formula })),
    };
  });
}

/** Findings marked with the variant in which they were made. */
export const ofVariant = (
  { variant }: Pick<PlanSource, 'variant'>,
  list: readonly Diagnostic[],
): readonly Diagnostic[] =>
  variant === undefined ? list : list.map((item) => ({ ...item, variant: variant.key }));
