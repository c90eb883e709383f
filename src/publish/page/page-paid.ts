/**
 * The page of a paid plan: it shows what the plan is and what it asks for, and nothing that is sold. Pictures are pixels, prose
 * passes `page-public.ts`, and sample sheets are chosen among steps whose drawings carry no sizes.
 */
import type { Drawing } from '../../draw/types.ts';
import type { Block, StepInstructions } from '../../instructions/types.ts';
import type { OutputFile, PlanBundle } from '../types.ts';
import { editionsOnce, variantNamed, variantNames } from '../variants.ts';
import { type Child, type Content, el } from './html.ts';
import { costs, packageMatter, toolsNeeded } from './page-before.ts';
import { breadcrumbs, type Place, pageHtml, section } from './page-frame.ts';
import {
  type Fact,
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
  prices,
  productData,
  REVISIONS,
  revisionsSection,
  unitName,
  weightCaution,
} from './page-parts.ts';
import { drawnPicture, type Picture, pictureNode, SAMPLE_WIDTHS } from './page-pictures.ts';
import { publicBlocks, publicSummary, secretSizes, withoutSizes } from './page-public.ts';
import { blockNodes, byEdition } from './page-words.ts';
import { textsIn, withoutGroups } from './svg-page.ts';

const PIECE: Place = { id: 'piece', title: 'The piece' };
const BEFORE: Place = { id: 'before', title: 'Before you start' };
const PACKAGE: Place = { id: 'package', title: 'The package' };
const SAMPLES: Place = { id: 'samples', title: 'Sample sheets' };

/** A step shown as a sample. */
export interface Sample {
  readonly step: StepInstructions;
  readonly picture: Picture;
}

/** Steps shown as samples, and the files of their pictures. */
export interface Samples {
  readonly samples: readonly Sample[];
  readonly files: readonly OutputFile[];
}

/** The page of a paid plan and the pictures on it. */
export function paidPage(matter: PlanMatter, { samples, files }: Samples): MadePage {
  const { bundle, site } = matter;
  const secrets = secretSizes(bundle);
  const summary = publicSummary(bundle, secrets);
  const prose = byEdition(
    // One edition's words are enough to sell by; sizes of the other stand in the facts.
    bundle.editions
      .slice(0, 1)
      .map(({ finished }) => blockNodes(publicBlocks(finished.instructions.opening, secrets), { level: 2 })),
    'div',
  );
  const places = [
    ...(prose.length > 0 ? [PIECE] : []),
    ...(matter.photos.length > 0 ? [PHOTOS] : []),
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
      photosSection(matter),
      section(BEFORE, costs(matter), toolsNeeded(matter)),
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
  const { front } = bundle;
  const [price, ...others] = prices(bundle, site.shop.currency);
  const checkout = front.checkout ?? site.shop.checkout[bundle.slug];
  const lines = (list: readonly (readonly Child[])[]): Child[] =>
    list.flatMap((line, at) => (at === 0 ? [...line] : [el('br', {}), ...line]));
  return opening(matter, {
    plate: platePicture(matter),
    caption:
      matter.photo !== undefined ? 'The finished piece.' : 'The finished piece, drawn from the plan itself.',
    summary,
    facts: [
      ...sizesOf(bundle).map(
        ([label, indices], at): Fact => [
          label,
          lines(indices.map((index, line) => outlineNodes(bundle, index, at === 0 && line === 0))),
        ],
      ),
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

/** The finished sizes: a row for each variant, the editions below each other. */
function sizesOf(bundle: PlanBundle): [label: string, editions: number[]][] {
  const rows = new Map<string, number[]>();
  bundle.editions.forEach(({ finished }, index) => {
    const label = variantNamed(finished.plan.variant)[0] ?? 'Size';
    rows.set(label, [...(rows.get(label) ?? []), index]);
  });
  return [...rows];
}

/** What a buyer gets for the price. */
function downloadWords(bundle: PlanBundle): string {
  const names = variantNames(bundle);
  const both = editionsOnce(bundle).length > 1 ? ' with both editions' : '';
  if (names.length === 0) return `One download${both}.`;
  const last = names.at(-1) as string;
  return `A download${both} for each size: ${names.slice(0, -1).join(', ')} and ${last}.`;
}

// ---------------------------------------------------------------- sample sheets

/**
 * Two steps, from the first and second half, whose drawings carry no sizes once dimensions are taken out. The letters of parts
 * and counts of screws may stay: they say nothing about a size.
 */
export async function makeSamples({ bundle, site }: Pick<PlanMatter, 'bundle' | 'site'>): Promise<Samples> {
  const finished = bundle.editions[0]?.finished;
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
        folder: `site/plans/${bundle.slug}`,
        base: `sample-${step.index}`,
        widths: SAMPLE_WIDTHS,
        tokens: site.theme.tokens,
        room: site.room,
        box: await site.room.inkedBox(drawing.svg),
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

/** Sentences of a step that state no size and no angle at all, from its first two paragraphs that have some. */
const sampleWords = (step: StepInstructions): Block[] =>
  step.blocks
    .flatMap((block): Block[] =>
      block.kind === 'list' ? block.items.flatMap((item) => item.slice(0, 1)) : [block],
    )
    .flatMap((block) => (block.kind === 'paragraph' ? withoutSizes(block.children) : []))
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
