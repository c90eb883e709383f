/**
 * Drawings an author asks for: `::drawing[Caption]{from="front left above" show="leg, apron" sizes="overall"}`, with `hide`,
 * `section="at leg.back"`, `detail="leg, apron"`, `apart`, `open` with `about`, `by` and `mirrored`, and a `name` for the front matter.
 */
import { type Diagnostic, fault, type Origin, type Outcome } from '../diagnostics.ts';
import type { Plan } from '../model/types.ts';
import { nearest } from '../read/nearest.ts';
import { printed, sizeText } from '../units.ts';
import { readOpen } from './request-open.ts';
import type { DrawingRequest } from './types.ts';

const STRAIGHT = ['front', 'back', 'left', 'right', 'top', 'bottom'] as const;
const SIZES = ['overall', 'all', 'none'] as const;
const KNOWN = [
  'from',
  'show',
  'hide',
  'sizes',
  'section',
  'detail',
  'apart',
  'open',
  'about',
  'by',
  'mirrored',
  'name',
];

interface Asked {
  readonly id: string;
  readonly caption: string;
  readonly attributes: Readonly<Record<string, string | null | undefined>>;
  readonly origin: Origin;
}

/** Reads a drawing directive; what is wrong falls back to a usual value and is said. */
export function readRequest(asked: Asked, plan: Plan): Outcome<DrawingRequest> {
  const diagnostics: Diagnostic[] = [];
  for (const key of Object.keys(asked.attributes).sort()) {
    if (KNOWN.includes(key)) continue;
    const near = nearest(key, KNOWN);
    diagnostics.push(
      fault('drawing.attribute', asked.origin, {
        expected: 'from, show, hide, sizes, section, detail, apart, open or name in the braces of ::drawing',
        found: key,
        hint:
          near === undefined
            ? '::drawing[Caption]{from="front" show="leg" sizes="overall"}'
            : `did you mean ${near}="…"?`,
      }),
    );
  }
  if (asked.caption.trim() === '') {
    diagnostics.push(
      fault('drawing.caption', asked.origin, {
        expected: 'a caption in the brackets of ::drawing[…]',
        found: 'none',
        hint: '::drawing[The frame from the front]{from="front"}',
      }),
    );
  }
  const from = readFrom(asked.attributes.from ?? 'front right above', asked.origin, diagnostics);
  const named = (key: NamesParts): string[] =>
    readNames(key, asked.attributes[key] ?? '', plan, asked.origin, diagnostics);
  const hidden = namesParts(plan, named('hide'));
  // What is hidden is left out of what is shown; with nothing named all is shown.
  const wanted = named('show');
  const show =
    hidden.length === 0
      ? wanted
      : namesParts(plan, wanted.length > 0 ? wanted : plan.parts.map((part) => part.key)).filter(
          (key) => !hidden.includes(key),
        );
  if (hidden.length > 0 && show.length === 0)
    diagnostics.push(
      fault('drawing.hide', asked.origin, {
        expected: 'something left to draw',
        found: `hide="${asked.attributes.hide}", which hides all that is shown`,
        hint: 'name fewer parts in hide',
      }),
    );
  const detail = named('detail');
  const section = readSection(asked, from, show, plan, diagnostics);
  const apart =
    asked.attributes.apart !== undefined &&
    asked.attributes.apart !== null &&
    asked.attributes.apart !== 'no';
  if (apart && typeof from === 'string')
    diagnostics.push(
      fault('drawing.apart', asked.origin, {
        expected: 'a viewpoint with apart, since a straight view shows no way in',
        found: `from="${from}"`,
        hint: 'from="front right above" apart',
      }),
    );
  const open = readOpen(asked, namesParts(plan, named('open')), plan, diagnostics);
  const sizes = (asked.attributes.sizes ?? 'overall').trim();
  const known = SIZES.find((value) => value === sizes);
  if (known === undefined) {
    diagnostics.push(
      fault('drawing.sizes', asked.origin, {
        expected: 'sizes="overall", "all" or "none"',
        found: `"${sizes}"`,
        hint: 'sizes="overall"',
      }),
    );
  }
  const name = readName(asked, diagnostics);
  const value = {
    id: asked.id,
    ...(name === undefined ? {} : { name }),
    caption: asked.caption,
    from,
    show,
    // Along axes that are shortened unlike nobody compares sizes by eye: those over all are enough.
    sizes:
      typeof from !== 'string' && from.turned !== undefined && known === 'all'
        ? 'overall'
        : (known ?? 'overall'),
    origin: asked.origin,
    ...(section === undefined ? {} : { section }),
    ...(detail.length === 0 ? {} : { detail }),
    ...(open === undefined ? {} : { open }),
    ...(apart && typeof from !== 'string' ? { apart: true as const } : {}),
  };
  return { value, diagnostics };
}

/** `name="open-lid"`: letters, digits and hyphens. */
function readName({ attributes, origin }: Asked, diagnostics: Diagnostic[]): string | undefined {
  const { name } = attributes;
  if (name === undefined || name === null) return undefined;
  if (/^[a-z][a-z0-9-]*$/iu.test(name)) return name;
  diagnostics.push(
    fault('drawing.name', origin, {
      expected: 'a name of letters, digits and hyphens, a letter first',
      found: `name="${name}"`,
      hint: 'name="open-lid"',
    }),
  );
  return undefined;
}

/** An angle and where it goes: `20 deg left`. */
const TURN = /(\d{1,3}(?:\.\d{1,3})?)\s*deg\s+(left|right|above|below)/gu;

/** A direction with angles of its own: `front 20 deg left 30 deg above`; undefined where it has none. */
function readTurned(
  written: string,
  origin: Origin,
  diagnostics: Diagnostic[],
): DrawingRequest['from'] | undefined {
  const turns = [...written.matchAll(TURN)].map((match) => ({
    angle: Number(match[1]),
    way: match[2] as string,
  }));
  if (turns.length === 0) return undefined;
  const side = turns.filter(({ way }) => way === 'left' || way === 'right');
  const height = turns.filter(({ way }) => way === 'above' || way === 'below');
  const rest = written.replace(TURN, ' ').trim().replaceAll(',', ' ').trim();
  const wrong =
    side.length > 1 ||
    height.length > 1 ||
    turns.some(({ angle }) => angle > 90) ||
    !(rest === '' || rest === 'front' || rest === 'back');
  if (wrong) {
    diagnostics.push(
      fault('drawing.from', origin, {
        expected: 'front or back, one angle to the left or right and one above or below, of 90 deg at most',
        found: `"${written}"`,
        hint: 'from="front 20 deg left 30 deg above"',
      }),
    );
    return { depth: 'front', side: 'right', height: 'above' };
  }
  return {
    depth: rest === 'back' ? 'back' : 'front',
    side: side[0]?.way === 'left' ? 'left' : 'right',
    height: height[0]?.way === 'below' ? 'below' : 'above',
    turned: side[0]?.angle ?? 0,
    raised: height[0]?.angle ?? 0,
  };
}

function readFrom(written: string, origin: Origin, diagnostics: Diagnostic[]): DrawingRequest['from'] {
  const turned = readTurned(written, origin, diagnostics);
  if (turned) return turned;
  const words = written.trim().split(/[\s,]+/);
  const one = STRAIGHT.find((value) => value === written.trim());
  if (one) return one;
  const depth = words.find((word) => word === 'front' || word === 'back') as 'front' | 'back' | undefined;
  const side = words.find((word) => word === 'left' || word === 'right') as 'left' | 'right' | undefined;
  const height = words.find((word) => word === 'above' || word === 'below') as 'above' | 'below' | undefined;
  const wanted = [depth, side, height].filter((word) => word !== undefined);
  if (wanted.length !== words.length) {
    diagnostics.push(
      fault('drawing.from', origin, {
        expected:
          'a view (front, back, left, right, top, bottom) or a viewpoint (front or back, left or right, above or below)',
        found: `"${written}"`,
        hint: 'from="front" or from="front left above"',
      }),
    );
  }
  return { depth: depth ?? 'front', side: side ?? 'right', height: height ?? 'above' };
}

/** Which direction of the piece a straight view looks along, as the words of a formula have it. */
const ALONG = {
  front: 'deep',
  back: 'deep',
  left: 'across',
  right: 'across',
  top: 'up',
  bottom: 'up',
} as const;

/** `section="at leg.back"`: a length or a formula, along the direction in which the view looks. */
function readSection(
  asked: Asked,
  from: DrawingRequest['from'],
  show: readonly string[],
  plan: Plan,
  diagnostics: Diagnostic[],
): { at: number } | undefined {
  const written = asked.attributes.section;
  if (written === undefined || written === null) return undefined;
  const formula = /^at\s+(.+)$/u.exec(written.trim())?.[1];
  if (formula === undefined || typeof from !== 'string') {
    diagnostics.push(
      fault('drawing.section', asked.origin, {
        expected:
          typeof from === 'string'
            ? 'section="at …" with a length or a formula'
            : 'a straight view with a section',
        found: typeof from === 'string' ? `"${written}"` : 'a viewpoint from a corner',
        hint: 'from="front" section="at outline.depth / 2"',
      }),
    );
    return undefined;
  }
  const { quantity, problem } = plan.evaluate(formula, asked.origin);
  if (problem) {
    diagnostics.push(problem);
    return undefined;
  }
  const whole = { deep: plan.outline.depth, across: plan.outline.width, up: plan.outline.height }[
    ALONG[from]
  ];
  if (quantity?.kind !== 'length' || quantity.value <= 0 || quantity.value >= whole) {
    diagnostics.push(
      fault('drawing.section', asked.origin, {
        expected: `a length inside the piece, ${ALONG[from]} from 0 to ${sizeText(printed(whole, plan.edition.numbers))}`,
        found:
          quantity?.kind === 'length'
            ? sizeText(printed(quantity.value, plan.edition.numbers))
            : `"${formula}"`,
        hint: 'section="at outline.depth / 2"',
      }),
    );
    return undefined;
  }
  const axis = ({ across: 0, deep: 1, up: 2 } as const)[ALONG[from]];
  const { value } = quantity;
  const parts =
    show.length === 0 ? plan.parts : plan.parts.filter((part) => namesParts(plan, show).includes(part.key));
  const cuts = parts.some(({ copies }) =>
    copies.some(({ bounds }) => bounds.min[axis] < value - 0.01 && value + 0.01 < bounds.max[axis]),
  );
  if (!cuts) {
    diagnostics.push(
      fault('drawing.section', asked.origin, {
        expected: 'a section that cuts some of the parts shown',
        found: `${sizeText(printed(value, plan.edition.numbers))}, where it passes none of them`,
        hint: 'name a place inside a part, such as section="at leg.front + leg.thickness / 2"',
      }),
    );
    return undefined;
  }
  return { at: value };
}

/** Keys of the parts that names of parts and of assemblies stand for. */
const namesParts = (plan: Plan, names: readonly string[]): string[] =>
  plan.parts
    .filter(
      (part) => names.includes(part.key) || (part.assembly !== undefined && names.includes(part.assembly)),
    )
    .map((part) => part.key);

/** Attributes that name parts. */
type NamesParts = 'show' | 'hide' | 'detail' | 'open';

function readNames(
  key: NamesParts,
  written: string,
  plan: Plan,
  origin: Origin,
  diagnostics: Diagnostic[],
): string[] {
  const names = written
    .split(',')
    .map((name) => name.trim())
    .filter((name) => name !== '' && name !== 'all');
  const known = [...plan.parts.map((part) => part.key), ...plan.parts.flatMap((part) => part.assembly ?? [])];
  return names.filter((name) => {
    if (known.includes(name)) return true;
    const near = nearest(name, known);
    diagnostics.push(
      fault(`drawing.${key}`, origin, {
        expected: `parts or assemblies of this plan in ${key}="…", with commas between`,
        found: `"${name}"`,
        hint:
          near === undefined
            ? `the parts are ${plan.parts.map((part) => part.key).join(', ')}`
            : `did you mean ${near}?`,
      }),
    );
    return false;
  });
}
