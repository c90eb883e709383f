/** All that a plan's sheets show, as plain data: the theme's Typst files read it from JSON and decide how it looks. */

import type { Drawing, DrawingSet } from '../../draw/types.ts';
import { capital, countWord } from '../../instructions/words.ts';
import { planTitle } from '../../model/naming.ts';
import type { FinishedPlan, Shop, ThemeTokens } from '../types.ts';
import { paperName, sheetWords, type Words } from '../words/pdf-words.ts';
import { plainFacts, type SheetFact } from './pdf-facts.ts';
import {
  boardCutData,
  cutRows,
  layoutWords,
  notesBelow,
  type SheetBoardCuts,
  type SheetCutRow,
  type SheetSaw,
  type SheetSequence,
  type SheetShopping,
  sawData,
  sequenceData,
  shoppingData,
} from './pdf-lists.ts';
import { plain, type SheetBlock, type SheetLine, sheetBlocks, sheetLine } from './pdf-prose.ts';
import { type SheetStep, stepData } from './pdf-steps.ts';

/** A drawing's place in the data; its SVG is the file of that name. Sizes in mm. */
export interface SheetDrawing {
  readonly file: string;
  readonly kind: Drawing['kind'];
  readonly title: string;
  readonly caption: SheetLine;
  readonly alt: string;
  readonly width: number;
  readonly height: number;
  readonly scale: string;
  readonly projection: string;
}

export interface SheetData {
  readonly language: string;
  readonly region: string;
  readonly paper: 'us-letter' | 'a4';
  /** Colours of the light palette, and the two families. */
  readonly colours: Readonly<Record<string, string>>;
  readonly serif: string;
  readonly sans: string;
  readonly words: Words;
  readonly owner: string;
  readonly ownerLine: string;
  readonly title: string;
  readonly documentTitle: string;
  readonly number: string;
  readonly over: readonly string[];
  readonly summary: string;
  readonly editionName: string;
  readonly revision: string;
  /** Year, month, day of the newest revision; nothing where it has no date. */
  readonly date: readonly [number, number, number] | null;
  readonly dateText: string;
  readonly opening: readonly SheetBlock[];
  readonly facts: readonly SheetFact[];
  readonly workTitle: string;
  readonly safety: readonly string[];
  readonly tools: readonly string[];
  readonly shopping: SheetShopping;
  readonly cuts: readonly SheetCutRow[];
  readonly cutsNote: string;
  /** Long notes of the cut list stand under the names. */
  readonly notesBelow: boolean;
  readonly saw: readonly SheetSaw[];
  readonly sequences: readonly SheetSequence[];
  readonly boardCuts: readonly SheetBoardCuts[];
  readonly layoutsOpening: SheetLine;
  readonly layoutsClosing: readonly SheetLine[];
  readonly layoutDrawings: readonly string[];
  readonly otherDrawings: readonly string[];
  /** Sheets of single parts, which follow the steps; `half` is the drawing on a sheet that two share, nothing where it is the same. */
  readonly partDrawings: readonly { readonly drawing: string; readonly half: string }[];
  readonly stepsOpening: readonly SheetBlock[];
  readonly steps: readonly SheetStep[];
  readonly sectionsName: string;
  readonly sections: readonly { readonly title: string; readonly blocks: readonly SheetBlock[] }[];
  readonly revisions: readonly { readonly revision: string; readonly date: string; readonly note: string }[];
  readonly licence: readonly string[];
  readonly drawings: Readonly<Record<string, SheetDrawing>>;
  /** The photo on the cover and its width for a height of one; null where a drawing stands there. */
  readonly cover: { readonly file: string; readonly ratio: number; readonly alt: string } | null;
}

/** Gathers the data of a plan's sheets. `labelled`: labels for the parts come with them. */
export function sheetData(
  finished: FinishedPlan,
  shop: Shop,
  tokens: ThemeTokens,
  labelled = false,
): SheetData {
  const { plan, instructions, drawings } = finished;
  const { edition, front } = plan;
  const newest = front.revisions[0];
  const [language = 'en', region = 'us'] = edition.language.toLowerCase().split('-');
  const words = sheetWords(edition);
  const steps = instructions.steps.map((step) => stepData(step, finished));
  const placed = new Set(drawingsIn(finished));
  const licence = front.licence ?? shop.licence;
  return {
    language,
    region,
    paper: edition.paper === 'letter' ? 'us-letter' : 'a4',
    colours: tokens.light,
    serif: tokens.serif,
    sans: tokens.sans,
    words,
    owner: plain(shop.name),
    ownerLine: [shop.name, shop.address, shop.url].map(plain).filter(Boolean).join(', '),
    title: plain(planTitle(plan)),
    documentTitle: plain(`${planTitle(plan)}, plan ${front.number}, ${edition.name.toLowerCase()} edition`),
    number: `${front.number}`,
    over: [
      `${words.plan} ${front.number}`,
      plain(`${edition.name} edition, for ${paperName(edition.paper)} paper`),
    ],
    summary: plain(front.summary),
    editionName: plain(edition.name),
    revision: plain(newest?.revision ?? ''),
    date: dateParts(newest?.date),
    dateText: plain(newest?.date ?? ''),
    opening: sheetBlocks(instructions.opening),
    facts: plainFacts(finished),
    workTitle: `The work in ${countWord(steps.length)} ${steps.length === 1 ? 'step' : 'steps'}`,
    safety: [...new Set([...shop.safety, ...instructions.cautions].map(plain))],
    tools: instructions.tools.map(plain),
    shopping: shoppingData(finished),
    cuts: cutRows(finished),
    cutsNote: [cutsNote(finished), ...(labelled ? [LABELS_COME] : [])].join(' '),
    notesBelow: notesBelow(finished),
    saw: sawData(finished),
    sequences: sequenceData(finished),
    boardCuts: boardCutData(finished),
    ...layoutWords(finished),
    layoutDrawings: drawings.drawings.filter((drawing) => drawing.kind === 'layout').map(({ id }) => id),
    otherDrawings: onSheets(drawings)
      .filter(
        ({ id, kind }) =>
          kind !== 'layout' && kind !== 'step' && kind !== 'part' && !COVERS.includes(id) && !placed.has(id),
      )
      // How it goes together comes first: the views with their sizes stand next to the work.
      .sort((a, b) => Number(b.kind === 'exploded') - Number(a.kind === 'exploded'))
      .map(({ id }) => id),
    partDrawings: drawings.drawings
      .filter(({ kind, id }) => kind === 'part' && !id.startsWith('half-') && !placed.has(id))
      .map(({ id }) => ({
        drawing: id,
        half: drawings.drawings.some((other) => other.id === `half-${id}`) ? `half-${id}` : '',
      })),
    stepsOpening: sheetBlocks(instructions.stepsOpening),
    steps,
    sectionsName: instructions.sections.some(({ title }) => /^finish/i.test(title))
      ? (words.finish as string)
      : (words.notes as string),
    sections: instructions.sections.map(({ title, blocks }) => ({
      title: plain(title),
      blocks: sheetBlocks(blocks),
    })),
    revisions: front.revisions.map(({ revision, date, note }) => ({
      revision: plain(revision),
      date: plain(date),
      note: plain(note),
    })),
    licence: licence
      .split(/\n\s*\n/)
      .map((paragraph) => plain(paragraph).trim())
      .filter(Boolean),
    drawings: Object.fromEntries(
      onSheets(drawings).map((drawing) => [drawing.id, sheetDrawing(drawing, front.title)]),
    ),
    cover:
      finished.cover === undefined
        ? null
        : {
            file: COVER_FILE,
            ratio: finished.cover.width / finished.cover.height,
            alt: plain(finished.cover.alt) || plain(`${front.title}, finished`),
          },
  };
}

/** Drawings that go on sheets: those for the pages that sell a plan don't. */
export const onSheets = ({ drawings }: DrawingSet): Drawing[] =>
  drawings.filter(({ kind }) => kind !== 'plate' && kind !== 'template');

/** The pictures of the finished piece on the cover and at a glance. */
const COVERS: readonly string[] = ['pictorial', 'pictorial-small'];

function sheetDrawing(drawing: Drawing, planTitle: string): SheetDrawing {
  // The title strip names the plan: `Potting bench: front, top and right side` is said as `Front, top and right side`.
  const title = capital(plain(drawing.title.replace(`${planTitle}: `, '')));
  return {
    file: drawingFile(drawing.id),
    kind: drawing.kind,
    title,
    caption: sheetLine(drawing.caption),
    alt: plain(drawing.alt) || plain(drawing.title) || 'Drawing',
    width: drawing.width,
    height: drawing.height,
    scale: plain(drawing.scale),
    projection: drawing.projection ?? '',
  };
}

/** Name of the cover's photo among those that the compiler reads. */
export const COVER_FILE = 'cover.jpg';

/** Name of a drawing's file among those that the compiler reads. */
export const drawingFile = (id: string): string => `drawings/${id}.svg`;

/** Drawings that the prose places itself. */
function drawingsIn(finished: FinishedPlan): string[] {
  const { opening, stepsOpening, steps, sections } = finished.instructions;
  const found: string[] = [];
  const visit = (blocks: typeof opening, depth: number): void => {
    for (const block of blocks) {
      if (block.kind === 'drawing') found.push(block.drawing);
      else if (depth < 8 && block.kind === 'quote') visit(block.children, depth + 1);
      else if (depth < 8 && block.kind === 'list') for (const item of block.items) visit(item, depth + 1);
    }
  };
  for (const blocks of [
    opening,
    stepsOpening,
    ...steps.map((step) => step.blocks),
    ...sections.map((s) => s.blocks),
  ])
    visit(blocks, 0);
  return found;
}

/** Year, month and day of an ISO 8601 date that the calendar has. */
export function dateParts(date: string | undefined): [number, number, number] | null {
  const found = /^(\d{4})-(\d{2})-(\d{2})/.exec(date ?? '');
  if (found === null) return null;
  const parts: [number, number, number] = [Number(found[1]), Number(found[2]), Number(found[3])];
  const day = new Date(Date.UTC(parts[0], parts[1] - 1, parts[2]));
  return day.getUTCMonth() === parts[1] - 1 && day.getUTCDate() === parts[2] ? parts : null;
}

/** Said under the cut list. */
const LABELS_COME =
  'Labels to print for them come with the plan: each says on which face to stick it, and its arrow which way round the part goes.';

/** `24 boards, 34 board feet of lumber as bought by name`. */
function cutsNote(finished: FinishedPlan): string {
  const { rows, volume } = finished.cutList;
  const pieces = rows.reduce((sum, row) => sum + row.quantity, 0);
  // a plan of sheets alone has no lumber to measure
  if (volume.value <= 0) return `${pieces} ${pieces === 1 ? 'piece' : 'pieces'}.`;
  const amount = volume.unit === 'm³' ? volume.value.toFixed(3) : volume.value.toFixed(1);
  return `${pieces} ${pieces === 1 ? 'piece' : 'pieces'}, ${amount} ${volume.unit} of lumber.`;
}
