/**
 * Inks of drawings: which class of line or tint takes which colour of the theme. A page recolours its inline drawings by these
 * rules through custom properties; a raster has them written in as plain colours.
 */
import type { ThemeTokens } from '../types.ts';

type Ink = readonly [selector: string, property: 'stroke' | 'fill', token: string];

/** Selectors name the classes that `draw/` writes. Tokens are those of `theme.json`. */
const INKS: readonly Ink[] = [
  ['.k-v,.k-p,.k-o,.k-t,.k-h,.k-c,.k-way', 'stroke', 'line'],
  ['.k-g,.k-hat,.k-so', 'stroke', 'stand'],
  ['.k-gr', 'stroke', 'grain'],
  // Rings of end grain are thin ink, told from grain strokes by their opacity.
  ['.k-gr[stroke-opacity]', 'stroke', 'line'],
  ['.k-tx,.k-ar', 'fill', 'line'],
  ['.k-tx-b', 'stroke', 'line'],
  ['.k-wt,.k-bf', 'fill', 'wood-1'],
  ['.k-wf', 'fill', 'wood-2'],
  ['.k-ws', 'fill', 'wood-3'],
  ['.k-we', 'fill', 'wood-end'],
  ['.k-n1', 'fill', 'new-1'],
  ['.k-n2', 'fill', 'new-2'],
  ['.k-n3', 'fill', 'new-3'],
  ['.k-ne', 'fill', 'new-end'],
  ['.k-st', 'fill', 'part'],
  ['.k-se', 'fill', 'part-end'],
  ['.k-pl,.k-bd,circle.k-t', 'fill', 'plate'],
];

/** The rules of a page's stylesheet: colours by name, so that dark mode needs no second set. */
export const inkRules = (): string =>
  INKS.map(([selector, property, token]) => `${selector}{${property}:var(--${token})}`).join('\n');

/** The rules with the colours of one scheme written in, for a raster. */
export const inkRulesIn = (colours: ThemeTokens['light']): string =>
  INKS.flatMap(([selector, property, token]) => {
    const colour = colours[token];
    return colour === undefined ? [] : [`${selector}{${property}:${colour}}`];
  }).join('');
