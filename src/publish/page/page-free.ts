/** The page of a free plan: the whole plan, both editions in one page, the one in use chosen by a switch. */

import { labelsName, labelsOn } from '../pdf/labels-pdf.ts';
import { pdfName } from '../pdf/pdf.ts';
import { templatesName } from '../pdf/pdf-templates.ts';
import type { FinishedPlan } from '../types.ts';
import { perVariant, variantBefore } from '../variants.ts';
import { type Child, type Content, el, rawSvg, script, slugOf } from './html.ts';
import { breadcrumbs, type Place, pageHtml, section } from './page-frame.ts';
import { cutListSection, layoutsSection, shoppingSection } from './page-lists.ts';
import {
  LICENCE,
  licenceSection,
  type MadePage,
  opening,
  outlineNodes,
  PHOTOS,
  type PlanMatter,
  paperName,
  photosSection,
  planPath,
  plateAlt,
  platePicture,
  productData,
  REVISIONS,
  revisionsSection,
  unitName,
} from './page-parts.ts';
import { blockText } from './page-public.ts';
import { stepsSection } from './page-steps.ts';
import { byEdition, lineNodes, proseByEdition } from './page-words.ts';
import { figure, pageSvg, plateLines } from './svg-page.ts';

const PIECE: Place = { id: 'piece', title: 'The piece' };
const SHOPPING: Place = { id: 'shopping', title: 'Shopping list' };
const CUT_LIST: Place = { id: 'cut-list', title: 'Cut list' };
const LAYOUTS: Place = { id: 'layouts', title: 'Cutting layouts' };
const VIEWS: Place = { id: 'views', title: 'Views' };
const STEPS: Place = { id: 'steps', title: 'Steps' };
const PARTS: Place = { id: 'parts', title: 'Parts' };
const PRINT: Place = { id: 'print', title: 'To print' };

/** Remembers the edition for the next page. It stands right behind the switch, so that nothing moves when it acts. */
const REMEMBER = `
(function(){var k="edition",s=document.querySelectorAll('.units input');
try{var v=localStorage.getItem(k);[].some.call(s,function(i){return i.value===v&&(i.checked=true)})}catch(e){}
s.forEach(function(i){i.addEventListener("change",function(){try{localStorage.setItem(k,i.value)}catch(e){}})})})()`;

/** The picture of a drawing in one edition, or nothing where it has none of that id. */
function drawingFigure(
  finished: FinishedPlan,
  id: string,
  settings: { prefix: string; caption?: readonly Child[]; fluid?: boolean },
): Content | undefined {
  const drawing = finished.drawings.drawings.find((one) => one.id === id);
  if (drawing === undefined) return undefined;
  const narrow = finished.drawings.narrow.find((one) => one.id === id);
  // No scale: a screen shows the drawing in a size of its own, and the narrow one has another.
  return figure(drawing, narrow, { ...settings, caption: settings.caption ?? lineNodes(drawing.caption) });
}

/** The page of a free plan. */
export async function freePage(matter: PlanMatter): Promise<MadePage> {
  const { bundle, site } = matter;
  const { front, editions } = bundle;
  const plans = editions.map(({ finished }) => finished);
  const proseSettings = (index: number) => ({
    level: 2,
    drawing: (id: string) =>
      plans[index] === undefined
        ? undefined
        : drawingFigure(plans[index], id, { prefix: `d${index + 1}-${id}` }),
  });
  const piece = proseByEdition(
    plans.map((plan) => plan.instructions.opening),
    proseSettings,
  );
  const views = viewsMatter(plans);
  const parts = partsMatter(plans);
  const titles = sectionTitles(plans);
  const cautions = cautionsOf(matter, plans);
  const own = titles.map((title) => ({ id: `s-${slugOf(title) || 'more'}`, title }));
  const places = [
    ...(piece.length > 0 ? [PIECE] : []),
    ...(matter.photos.length > 0 ? [PHOTOS] : []),
    SHOPPING,
    CUT_LIST,
    LAYOUTS,
    ...(views.length > 0 ? [VIEWS] : []),
    STEPS,
    ...(parts.length > 0 ? [PARTS] : []),
    ...own,
    PRINT,
    REVISIONS,
    LICENCE,
  ];
  const html = pageHtml(site, {
    title: `${front.title}, plan ${front.number}`,
    description: front.summary,
    path: planPath(bundle.slug),
    current: 'Plans',
    skip: 'To the plan',
    language: editions[0]?.edition.language ?? 'en',
    places,
    kind: 'product',
    ...(matter.card === undefined ? {} : { card: { ...matter.card, alt: plateAlt(bundle) } }),
    data: [
      productData(matter, front.summary),
      breadcrumbs(site.shop, front.title, planPath(bundle.slug)),
      howTo(matter),
    ],
    main: [
      await freeOpening(matter),
      piece.length > 0 ? section(PIECE, piece) : null,
      photosSection(matter),
      section(SHOPPING, shoppingSection(editions)),
      section(CUT_LIST, cutListSection(editions)),
      section(
        LAYOUTS,
        layoutsSection(editions, (index, id) => proseSettings(index).drawing(id)),
      ),
      views.length > 0 ? section(VIEWS, views) : null,
      stepsSection(STEPS, editions, (index, id, settings) =>
        plans[index] === undefined ? undefined : drawingFigure(plans[index], id, settings),
      ),
      parts.length > 0 ? section(PARTS, parts) : null,
      ...own.map((place) =>
        section(
          place,
          proseByEdition(
            plans.map(
              (plan) => plan.instructions.sections.find((one) => one.title === place.title)?.blocks ?? [],
            ),
            proseSettings,
          ),
        ),
      ),
      section(PRINT, downloads(matter)),
      revisionsSection(bundle),
      licenceSection(matter, cautions),
    ],
  });
  return { html, files: [] };
}

/** The editions' own sections in their order, each once. */
const sectionTitles = (plans: readonly FinishedPlan[]): string[] => [
  ...new Set(plans.flatMap((plan) => plan.instructions.sections.map((one) => one.title))),
];

async function freeOpening(matter: PlanMatter): Promise<Content> {
  const { bundle } = matter;
  const { front, editions } = bundle;
  const plates: Content[][] = [];
  for (const [index, { finished }] of editions.entries()) {
    const { drawings } = finished.drawings;
    const drawing =
      drawings.find(({ id }) => id === 'plate') ?? drawings.find(({ id }) => id === 'pictorial');
    if (drawing === undefined) continue;
    const box = await matter.site.room.inkedBox(drawing.svg);
    const svg = plateLines(drawing.svg, box);
    plates.push([rawSvg(pageSvg({ ...drawing, svg }, { prefix: `plate${index + 1}`, fluid: true, box }))]);
  }
  const plate =
    matter.photo !== undefined || plates.length === 0
      ? platePicture(matter)
      : el('div.stack', {}, byEdition(plates, 'div'));
  return opening(matter, {
    plate,
    caption:
      matter.photo !== undefined ? 'The finished piece.' : 'The finished piece, drawn from the plan itself.',
    summary: front.summary,
    facts: [
      [
        'Size',
        byEdition(
          editions.map((_, index) => outlineNodes(bundle, index, true)),
          'span',
        ),
      ],
      ['Skill', [front.skill]],
      ['Time', [front.time]],
      ['Price', ['Free, under the same licence as all plans']],
    ],
    act: [el('div.buy', {}, editions.length > 1 ? unitsSwitch(matter) : null, printButtons(matter))],
  });
}

/** The switch between editions: radio buttons, so that it works from the keyboard and without scripts. */
function unitsSwitch(matter: PlanMatter): Content {
  const { editions } = matter.bundle;
  const rows = perVariant(matter.bundle).map((variant) =>
    variant.editions.flatMap((made) => {
      const index = editions.indexOf(made);
      const id = `edition-${index + 1}`;
      return [
        el('input', {
          type: 'radio',
          name: 'edition',
          id,
          value: made.edition.key,
          checked: index === 0,
          autoComplete: 'off',
        }),
        el('label', { htmlFor: id }, switchName(matter, index)),
      ];
    }),
  );
  const [only, ...others] = rows;
  return el(
    'fieldset',
    {},
    el('legend', {}, others.length > 0 ? 'Size and units' : 'Sizes in'),
    others.length > 0
      ? el(
          'div.units.rows',
          {},
          rows.map((row) => el('div', {}, row)),
        )
      : el('div.units', {}, only ?? []),
    script(REMEMBER),
  );
}

/** `Inches`; the edition's own name too where two editions share a unit; before it the variant: `Long, inches`. */
function switchName(matter: PlanMatter, index: number): string {
  const { editions } = matter.bundle;
  const made = editions[index];
  if (made === undefined) return '';
  const unit = unitName(made.edition);
  const { variant } = made.finished.plan;
  const shared = editions.some(
    ({ edition }) => unitName(edition) === unit && edition.key !== made.edition.key,
  );
  const own = `${variantBefore(variant)}${shared ? `${made.edition.name}, ` : ''}`;
  return own === '' ? unit : `${own}${unit.toLowerCase()}`;
}
function printButtons(matter: PlanMatter): Content[] {
  const { bundle, pdfs } = matter;
  return byEdition(
    bundle.editions.map(({ finished }) => {
      const name = pdfName(finished.plan);
      return pdfs.has(name)
        ? [el('a.btn', { href: name, type: 'application/pdf' }, 'Download to print')]
        : [];
    }),
    'div',
  );
}

const kilobytes = (pdf: Uint8Array): string =>
  pdf.byteLength < 950_000
    ? `${Math.max(1, Math.round(pdf.byteLength / 1000))} kB`
    : `${(pdf.byteLength / 1_000_000).toFixed(1)} MB`;

function downloads(matter: PlanMatter): Content {
  const { bundle, pdfs } = matter;
  return el(
    'ul.plain',
    {},
    bundle.editions.flatMap(({ edition, finished }) =>
      [
        { name: pdfName(finished.plan), what: 'Plan', on: paperName(edition.paper) },
        { name: templatesName(finished.plan), what: 'Full-size templates', on: paperName(edition.paper) },
        { name: labelsName(finished.plan), what: 'Labels for the parts', on: labelsOn(edition) },
      ].flatMap(({ name, what, on }) => {
        const pdf = pdfs.get(name);
        if (pdf === undefined) return [];
        return [
          el(
            'li',
            {},
            el(
              'a',
              { href: name, type: 'application/pdf' },
              `${what} in ${unitName(edition).toLowerCase()}, ${variantBefore(finished.plan.variant).toLowerCase()}${on}`,
            ),
            el('span.label', {}, ` PDF, ${kilobytes(pdf)}`),
          ),
        ];
      }),
    ),
  );
}

/** The views, the exploded view, and what else was drawn of the whole piece. */
function viewsMatter(plans: readonly FinishedPlan[]): Content[] {
  const whole = (plan: FinishedPlan) =>
    plan.drawings.drawings.filter(
      ({ id, kind }) =>
        kind === 'views' || kind === 'exploded' || (kind === 'pictorial' && !/^pictorial(-small)?$/.test(id)),
    );
  return byEdition(
    plans.map((plan, index) =>
      whole(plan).flatMap((drawing) => {
        const fluid = drawing.kind === 'pictorial' || drawing.kind === 'exploded';
        const made = drawingFigure(plan, drawing.id, { prefix: `d${index + 1}-${drawing.id}`, fluid });
        return made === undefined ? [] : [made];
      }),
    ),
    'div',
  );
}

/** A sheet for each part that has more than square ends. */
const partsMatter = (plans: readonly FinishedPlan[]): Content[] =>
  byEdition(
    plans.map((plan, index) =>
      plan.drawings.drawings
        .filter(({ id, kind }) => kind === 'part' && !id.startsWith('half-'))
        .flatMap(({ id }) => drawingFigure(plan, id, { prefix: `d${index + 1}-${id}` }) ?? []),
    ),
    'div',
  );

/** The plan's cautions in both editions, then the shop's. */
function cautionsOf(matter: PlanMatter, plans: readonly FinishedPlan[]): Content[][] {
  const lists = plans.map((plan) => plan.instructions.cautions);
  const [first, ...others] = lists;
  const same = first !== undefined && others.every((list) => list.join('\n') === first.join('\n'));
  const paragraph = (words: string): Content[] => [{ type: 'text', value: words }];
  const shop = matter.site.shop.safety.filter((words) => !lists.some((list) => list.includes(words)));
  if (same || first === undefined) return [...(first ?? []), ...shop].map(paragraph);
  const shared = first.filter((words) => others.every((list) => list.includes(words)));
  const own = lists.map((list) => list.filter((words) => !shared.includes(words)));
  const most = Math.max(...own.map((list) => list.length));
  const each = Array.from({ length: most }, (_, at) =>
    byEdition(
      own.map((list) => (list[at] === undefined ? [] : paragraph(list[at]))),
      'span',
    ),
  );
  return [...each, ...[...shared, ...shop].map(paragraph)];
}

/** The steps for search engines, in the first edition's words. */
function howTo(matter: PlanMatter): unknown {
  const { bundle } = matter;
  const plan = bundle.editions[0]?.finished;
  return {
    '@context': 'https://schema.org',
    '@type': 'HowTo',
    name: bundle.front.title,
    description: bundle.front.summary,
    tool: plan?.instructions.tools.map((name) => ({ '@type': 'HowToTool', name })) ?? [],
    step: (plan?.instructions.steps ?? []).map((step) => ({
      '@type': 'HowToStep',
      position: step.index,
      name: step.title,
      text: step.blocks
        .map(blockText)
        .filter((words) => words !== '')
        .join(' '),
    })),
  };
}
