/**
 * The page of a paid plan: it shows what the plan is and what it asks for, and nothing that is sold. Pictures are pixels, prose
 * passes `page-public.ts`, and sample sheets are chosen among steps whose drawings carry no sizes.
 */
import type { Drawing } from '../draw/types.ts';
import type { Block, StepInstructions } from '../instructions/types.ts';
import { type Child, type Content, el, money } from './html.ts';
import { labelsName } from './labels-pdf.ts';
import { breadcrumbs, type Place, pageHtml, section } from './page-frame.ts';
import {
  LICENCE,
  licenceSection,
  type MadePage,
  opening,
  outlineNodes,
  type PlanMatter,
  paperName,
  planPath,
  plateAlt,
  platePicture,
  prices,
  productData,
  REVISIONS,
  revisionsSection,
  sheetCount,
  unitName,
  weightCaution,
} from './page-parts.ts';
import { drawnPicture, type Picture, pictureNode, SAMPLE_WIDTHS } from './page-pictures.ts';
import { blockText, publicBlocks, publicSummary, secretSizes, statesSize } from './page-public.ts';
import { blockNodes, byEdition } from './page-words.ts';
import { pdfName } from './pdf.ts';
import { textsIn, withoutGroups } from './svg-page.ts';
import type { OutputFile, PlanBundle } from './types.ts';
import { editionsOnce, variantBefore, variantNamed, variantNames } from './variants.ts';

const PIECE: Place = { id: 'piece', title: 'The piece' };
const BEFORE: Place = { id: 'before', title: 'Before you start' };
const PACKAGE: Place = { id: 'package', title: 'The package' };
const SAMPLES: Place = { id: 'samples', title: 'Sample sheets' };

/** A step shown as a sample. */
interface Sample {
  readonly step: StepInstructions;
  readonly picture: Picture;
}

/** The page of a paid plan and the pictures on it. */
export async function paidPage(matter: PlanMatter): Promise<MadePage> {
  const { bundle, site } = matter;
  const secrets = secretSizes(bundle);
  const summary = publicSummary(bundle, secrets);
  const { samples, files } = await makeSamples(matter);
  const prose = byEdition(
    // One edition's words are enough to sell by; sizes of the other stand in the facts.
    bundle.editions
      .slice(0, 1)
      .map(({ finished }) => blockNodes(publicBlocks(finished.instructions.opening, secrets), { level: 2 })),
    'div',
  );
  const places = [
    ...(prose.length > 0 ? [PIECE] : []),
    BEFORE,
    PACKAGE,
    ...(samples.length > 0 ? [SAMPLES] : []),
    REVISIONS,
    LICENCE,
  ];
  const description = summary === '' ? `${bundle.front.title}: a plan by ${site.shop.name}.` : summary;
  const warning = weightCaution(bundle);
  const cautions = [...(warning === undefined ? [] : [warning]), ...site.shop.safety.slice(0, 2)];
  const html = pageHtml(site, {
    title: `${bundle.front.title}, plan ${bundle.front.number}`,
    description,
    path: planPath(bundle.slug),
    current: 'Plans',
    skip: 'To the plan',
    language: bundle.editions[0]?.edition.language ?? 'en',
    places,
    kind: 'product',
    ...(matter.card === undefined ? {} : { card: { ...matter.card, alt: plateAlt(bundle) } }),
    data: [
      productData(matter, description),
      breadcrumbs(site.shop, bundle.front.title, planPath(bundle.slug)),
    ],
    main: [
      paidOpening(matter, summary),
      prose.length > 0 ? section(PIECE, prose) : null,
      section(BEFORE, el('div.two', {}, lumber(matter), tools(matter))),
      section(PACKAGE, packageMatter(matter)),
      samples.length > 0
        ? section(
            SAMPLES,
            el(
              'div.sheets',
              {},
              samples.map((sample) => sampleSheet(matter, sample)),
            ),
          )
        : null,
      revisionsSection(bundle),
      licenceSection(
        matter,
        cautions.map((words) => [words]),
      ),
    ],
  });
  return { html, files };
}

function paidOpening(matter: PlanMatter, summary: string): Content {
  const { bundle, site } = matter;
  const { front, editions } = bundle;
  const [price, ...others] = prices(bundle, site.shop.currency);
  const checkout = front.checkout ?? site.shop.checkout[bundle.slug];
  const lines = (list: readonly (readonly Child[])[]): Child[] =>
    list.flatMap((line, at) => (at === 0 ? [...line] : [el('br', {}), ...line]));
  return opening(matter, {
    plate: platePicture(matter),
    caption:
      matter.photos.length > 0 ? 'The finished piece.' : 'The finished piece, drawn from the plan itself.',
    summary,
    facts: [
      [
        'Size',
        lines(
          editions.map(({ finished }, index) => [
            variantBefore(finished.plan.variant),
            ...outlineNodes(bundle, index, index === 0),
          ]),
        ),
      ],
      ['Skill', [front.skill]],
      ['Time', [front.time]],
      [
        'Editions',
        lines(
          editionsOnce(bundle).map(({ edition }) => [`${unitName(edition)} on ${paperName(edition.paper)}`]),
        ),
      ],
    ],
    act: [
      el(
        'div.buy',
        {},
        price === undefined ? null : el('span.price', {}, price),
        checkout === undefined ? null : el('a.btn', { href: checkout }, 'Buy the plan'),
      ),
      el(
        'p.small',
        {},
        [
          others.length > 0 ? `Or ${others.join(', ')}.` : '',
          checkout === undefined ? 'Not for sale yet.' : '',
          downloadWords(bundle),
          'Yours to build from as often as you like.',
        ]
          .filter((part) => part !== '')
          .join(' '),
      ),
    ],
  });
}

/** What a buyer gets for the price. */
function downloadWords(bundle: PlanBundle): string {
  const names = variantNames(bundle);
  const both = editionsOnce(bundle).length > 1 ? ' with both editions' : '';
  if (names.length === 0) return `One download${both}.`;
  const last = names.at(-1) as string;
  return `A download${both} for each size: ${names.slice(0, -1).join(', ')} and ${last}.`;
}

/** What the lumber costs where the reader buys it. */
function lumber(matter: PlanMatter): Content {
  const { bundle } = matter;
  const rows = bundle.editions.map(({ finished }) => {
    const { shopping, plan } = finished;
    const names = [...new Set(plan.parts.map((part) => part.species))].sort().map((key) => {
      const name = plan.stockList.species.find((species) => species.key === key)?.name ?? key;
      return name.toLowerCase();
    });
    const cost = money(shopping.lumberCost, shopping.currency, { round: true });
    return {
      where: [...variantNamed(plan.variant), shopping.region, ...names].join(', '),
      cost: shopping.partial ? `${cost} or more` : cost,
      hardware:
        shopping.hardwareCost > 0 ? money(shopping.hardwareCost, shopping.currency, { round: true }) : '',
    };
  });
  const revision = bundle.front.revisions[0]?.revision;
  const hardware = rows.map((row) => row.hardware).filter((cost) => cost !== '');
  return el(
    'div',
    {},
    el(
      'table',
      {},
      el('caption', {}, 'Lumber, about'),
      el(
        'thead',
        {},
        el('tr', {}, el('th', { scope: 'col' }, 'Where you buy'), el('th.n', { scope: 'col' }, 'Cost')),
      ),
      el(
        'tbody',
        {},
        rows.map((row) => el('tr', {}, el('td', {}, row.where), el('td.n', {}, row.cost))),
      ),
    ),
    el(
      'p.small.under',
      {},
      revision === undefined ? '' : `Prices noted at revision ${revision}. `,
      hardware.length > 0 ? `Screws and other hardware add about ${hardware.join(' or ')}.` : '',
    ),
  );
}

function tools(matter: PlanMatter): Content {
  const list = matter.bundle.editions[0]?.finished.instructions.tools ?? [];
  return el(
    'div',
    {},
    el('h3.cap', {}, 'Tools'),
    el(
      'ul.plain',
      {},
      list.map((tool) => el('li', {}, tool)),
    ),
  );
}

function packageMatter(matter: PlanMatter): Content {
  const { bundle, pdfs } = matter;
  const sheets = bundle.editions.map(({ edition, finished: { plan } }) => {
    const count = sheetCount(pdfs.get(pdfName(plan)));
    const many = count === undefined ? '' : `${count} sheets, `;
    const named = variantNamed(plan.variant).map((words) => `, ${words.toLowerCase()}`);
    return `Plan${named} in ${unitName(edition).toLowerCase()}, ${many}${paperName(edition.paper)}`;
  });
  const steps = bundle.editions[0]?.finished.instructions.steps.length ?? 0;
  const contents = [
    steps > 0 ? `${steps} steps, each with its drawing` : '',
    'Cut list, cutting layouts, shopping list',
    'Both lists again as tables for a spreadsheet',
    bundle.editions.some(({ finished }) => pdfs.has(labelsName(finished.plan)))
      ? 'Labels to print and stick on the parts'
      : '',
  ].filter((line) => line !== '');
  return el(
    'div.two',
    {},
    el(
      'ul.plain',
      {},
      [...sheets, ...contents].map((line) => el('li', {}, line)),
    ),
    el(
      'div',
      {},
      el(
        'p',
        {},
        'Each sheet prints in black on a home printer and keeps its meaning in grey. In each step, what you add is tinted and what already stands is grey.',
      ),
      editionsOnce(bundle).length > 1
        ? el(
            'p',
            {},
            'Each edition is worked out for the lumber of its own region, so that its parts come out of boards that are sold there.',
          )
        : null,
    ),
  );
}

// ---------------------------------------------------------------- sample sheets

/**
 * Two steps, from the first and second half, whose drawings carry no sizes once dimensions are taken out. The letters of parts
 * and counts of screws may stay: they say nothing about a size.
 */
async function makeSamples(matter: PlanMatter): Promise<{ samples: Sample[]; files: OutputFile[] }> {
  const finished = matter.bundle.editions[0]?.finished;
  if (finished === undefined) return { samples: [], files: [] };
  const { drawings } = finished.drawings;
  // Where drawings were composed as samples, the others are left alone.
  const composed = drawings.some(({ id }) => id.startsWith('sample-'));
  const able = finished.instructions.steps.flatMap((step) => {
    if (composed && !drawings.some(({ id }) => id === `sample-${step.index}`)) return [];
    const drawing = sampleDrawing(drawings, step.index);
    return drawing === undefined || sampleWords(step).length === 0 ? [] : [{ step, drawing }];
  });
  const first = able[composed ? 0 : Math.min(1, able.length - 1)];
  const second = composed ? able[able.length - 1] : able[Math.floor(able.length * 0.6)];
  const chosen = [...new Set([first, second])].filter((one) => one !== undefined);
  const made = await Promise.all(
    chosen.map(async ({ step, drawing }) => {
      const picture = await drawnPicture(drawing.svg, {
        folder: `site/plans/${matter.bundle.slug}`,
        base: `sample-${step.index}`,
        widths: SAMPLE_WIDTHS,
        tokens: matter.site.theme.tokens,
        room: matter.site.room,
        box: await matter.site.room.inkedBox(drawing.svg),
      });
      return picture === undefined ? [] : [{ step, ...picture }];
    }),
  );
  return { samples: made.flat(), files: made.flat().flatMap(({ files }) => files) };
}

/** The step's drawing without dimensions; nothing where sizes remain in it. */
export function sampleDrawing(drawings: readonly Drawing[], step: number): { svg: string } | undefined {
  const drawing =
    drawings.find(({ id }) => id === `sample-${step}`) ?? drawings.find(({ id }) => id === `step-${step}`);
  if (drawing === undefined) return undefined;
  const svg = withoutGroups(drawing.svg, 'k-dim');
  const open = textsIn(svg).every(
    (words) => /^[A-Z]{1,2}$|^[×x]?\s?\d{1,2}$|^$/.test(words) && !/^\d/.test(words),
  );
  return open ? { svg } : undefined;
}

/** Sentences of a step that state no size at all. */
const sampleWords = (step: StepInstructions): Block[] =>
  step.blocks
    .flatMap((block): Block[] =>
      block.kind === 'list' ? block.items.flatMap((item) => item.slice(0, 1)) : [block],
    )
    .filter((block) => block.kind === 'paragraph' && !statesSize(blockText(block)))
    .slice(0, 2);

function sampleSheet(matter: PlanMatter, sample: Sample): Content {
  const { front, editions } = matter.bundle;
  const { step, picture } = sample;
  const units = editions[0] === undefined ? '' : `, ${unitName(editions[0].edition).toLowerCase()}`;
  const title = `Step ${step.index}: ${step.title.charAt(0).toLowerCase()}${step.title.slice(1)}`;
  return el(
    'figure',
    {},
    el(
      'div.sheet',
      {},
      el('h3', {}, title),
      el(
        'div.half',
        {},
        el(
          'div.fig',
          {},
          pictureNode(picture, {
            folder: '',
            alt: `Sample drawing of step ${step.index}: what is added is tinted, what stands is grey.`,
            sizes: '(min-width: 1152px) 410px, (min-width: 901px) 36vw, calc(100vw - 70px)',
          }),
        ),
        el('div', {}, blockNodes(sampleWords(step), { level: 3 })),
      ),
      el(
        'div.strip',
        {},
        el('span', {}, `${front.title}${units}`),
        el('span', {}, `Plan ${front.number}`),
        el('span', {}, 'Sample'),
        el(
          'span',
          {},
          `Step ${step.index} of ${editions[0]?.finished.instructions.steps.length ?? step.index}`,
        ),
      ),
    ),
    el('figcaption', {}, `A sample: step ${step.index} without its sizes and screws.`),
  );
}
