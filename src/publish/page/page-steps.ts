/** The steps of a free plan's page: numeral and title left, drawing and words right. */
import type { StepInstructions } from '../../instructions/types.ts';
import { printed } from '../../units.ts';
import type { PlanBundle } from '../types.ts';
import { type Child, type Content, el } from './html.ts';
import type { Place } from './page-frame.ts';
import { byEdition, letterNode, proseByEdition, sizeNode } from './page-words.ts';

type Editions = PlanBundle['editions'];

/** Gives the figure of a drawing in an edition. */
export type Figures = (
  edition: number,
  id: string,
  settings: { prefix: string; fluid?: boolean; caption?: readonly Child[] },
) => Content | undefined;

/** A drawing wider than this fills the row; its words stand below. 445 px beside the words at 3.2 px a millimetre. */
const BESIDE = 139;

/** All steps under one heading. */
export function stepsSection(place: Place, editions: Editions, figures: Figures): Content {
  const plans = editions.map(({ finished }) => finished.instructions);
  const settings = (index: number) => ({
    level: 3,
    drawing: (id: string) => figures(index, id, { prefix: `d${index + 1}-${id}` }),
  });
  const opening = proseByEdition(
    plans.map((plan) => plan.stepsOpening),
    settings,
  );
  const numbers = [...new Set(plans.flatMap((plan) => plan.steps.map((step) => step.index)))].sort(
    (a, b) => a - b,
  );
  return el(
    'section',
    { id: place.id, ariaLabelledBy: `${place.id}-head` },
    opening.length > 0
      ? el('div.s', {}, el('h2', { id: `${place.id}-head` }, place.title), el('div', {}, opening))
      : el('h2.vh', { id: `${place.id}-head` }, place.title),
    numbers.map((number) => stepArticle(number, editions, figures, settings)),
  );
}

function stepArticle(
  number: number,
  editions: Editions,
  figures: Figures,
  settings: (index: number) => { level: number; drawing: (id: string) => Content | undefined },
): Content {
  const steps = editions.map(({ finished }) =>
    finished.instructions.steps.find((step) => step.index === number),
  );
  const title = steps.find((step) => step !== undefined)?.title ?? '';
  const id = `step-${number}`;
  const widths = editions.map(
    ({ finished }) => finished.drawings.drawings.find((drawing) => drawing.id === id)?.width ?? 0,
  );
  const pictures = byEdition(
    editions.map((_, index) => {
      // Said twice, in the first two steps; from then on the reader knows.
      const caption =
        number === 1
          ? ['Tinted: what you add.']
          : number === 2
            ? ['Tinted: what you add. Grey: what stands.']
            : [];
      const made = figures(index, id, { prefix: `d${index + 1}-${id}`, caption });
      return made === undefined ? [] : [made];
    }),
    'div',
  );
  const words = [
    ...byEdition(
      steps.map((step, index) => (step === undefined ? [] : needs(step, editions, index))),
      'div',
    ),
    ...proseByEdition(
      steps.map((step) => step?.blocks ?? []),
      settings,
    ),
  ];
  return el(
    Math.max(...widths) > BESIDE ? 'article.step.wide' : 'article.step',
    { id, ariaLabelledBy: `${id}-head` },
    el(
      'header',
      {},
      el('span.num', { ariaHidden: 'true' }, `${number}`),
      el('h3', { id: `${id}-head` }, el('span.vh', {}, `Step ${number}: `), title),
    ),
    el(
      pictures.length === 0 ? 'div.body.bare' : 'div.body',
      {},
      pictures.length === 0 ? null : el('div.pictures', {}, pictures),
      el('div.prose', {}, words),
    ),
  );
}

/** A name within a sentence: its capital falls, save in an abbreviation. */
const inSentence = (name: string): string =>
  /^[A-Z][a-z]/.test(name) ? name.charAt(0).toLowerCase() + name.slice(1) : name;

/** What lies ready for the step: parts with their letters, assemblies, fasteners, hardware, tools. */
function needs(step: StepInstructions, editions: Editions, index: number): Content[] {
  const style = editions[index]?.edition.numbers;
  const times = (count: number) => (count > 1 ? ` × ${count}` : '');
  const item = (one: StepInstructions['hardware'][number]['item'], count: number): Child[] => [
    // Glue and finish are bought by area: their count is one of coats, not of packages.
    one.covers === undefined ? `${count} × ${one.name}` : one.name,
    // `no. 8` stays in one line.
    one.size === undefined ? '' : `, ${one.size.replaceAll('. ', '.\u00a0')}`,
    one.length === undefined || style === undefined ? '' : ', ',
    one.length === undefined || style === undefined ? null : sizeNode(printed(one.length, style)),
  ];
  const lines: Child[][] = [
    ...step.parts.map((part): Child[] => [letterNode(part.letter), ` ${part.name}${times(part.quantity)}`]),
    ...step.sets.map((name): Child[] => [`${name.charAt(0).toUpperCase()}${name.slice(1)}, built before`]),
    ...step.fasteners.map((fastener) => item(fastener.item, fastener.count)),
    ...step.hardware.map((use) => item(use.item, use.count)),
    ...(step.tools.length > 0
      ? [[step.tools.map((tool, at) => (at === 0 ? tool : inSentence(tool))).join(', ')]]
      : []),
  ];
  return lines.length === 0
    ? []
    : [
        el(
          'ul.needs',
          {},
          lines.map((line) => el('li', {}, line)),
        ),
      ];
}
