/** Drawings an author asks for: `::drawing[Caption]{from="front left above" show="leg, apron" sizes="overall"}`. */
import { type Diagnostic, fault, type Origin, type Outcome } from '../diagnostics.ts';
import type { Plan } from '../model/types.ts';
import type { DrawingRequest } from './types.ts';
import { nearest } from './words.ts';

const STRAIGHT = ['front', 'back', 'left', 'right', 'top', 'bottom'] as const;
const SIZES = ['overall', 'all', 'none'] as const;
const KNOWN = ['from', 'show', 'sizes'];

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
        expected: `from, show or sizes in the braces of ::drawing`,
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
  const show = readShow(asked.attributes.show ?? '', plan, asked.origin, diagnostics);
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
  const value = {
    id: asked.id,
    caption: asked.caption,
    from,
    show,
    sizes: known ?? 'overall',
    origin: asked.origin,
  };
  return { value, diagnostics };
}

function readFrom(written: string, origin: Origin, diagnostics: Diagnostic[]): DrawingRequest['from'] {
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

function readShow(written: string, plan: Plan, origin: Origin, diagnostics: Diagnostic[]): string[] {
  const names = written
    .split(',')
    .map((name) => name.trim())
    .filter((name) => name !== '' && name !== 'all');
  const known = [...plan.parts.map((part) => part.key), ...plan.parts.flatMap((part) => part.assembly ?? [])];
  return names.filter((name) => {
    if (known.includes(name)) return true;
    const near = nearest(name, known);
    diagnostics.push(
      fault('drawing.show', origin, {
        expected: 'parts or assemblies of this plan in show="…", with commas between',
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
