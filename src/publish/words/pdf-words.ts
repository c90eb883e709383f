/** The program's own words on the sheets. US spelling where the edition's language asks for it; the author's words stay. */
import type { Edition } from '../../read/types.ts';

/** A file of words that the theme's Typst files read by name. */
export type Words = Readonly<Record<string, string>>;

/** Words for an edition's language. */
export function sheetWords(edition: Edition): Words {
  const us = edition.language.toLowerCase() === 'en-us';
  const inch = edition.numbers.system === 'inch';
  return {
    plan: 'Plan',
    sheet: 'sheet',
    caution: 'Caution',
    legalOwner: 'Legal owner',
    title: 'Title',
    sheetTitle: 'Sheet title',
    sheetNumber: 'Sheet',
    and: 'and',
    to: 'to',
    of: 'of',
    edition: 'Edition',
    revision: 'Revision',
    dateOfIssue: 'Date of issue',
    sizesIn: 'Sizes in',
    unit: inch ? 'inches' : us ? 'millimeters' : 'millimetres',
    scale: 'Scale',
    noScale: 'none',
    severalScales: 'as stated',
    projection: 'Projection',
    noProjection: 'none drawn',
    cover: 'Cover',
    glance: 'At a glance',
    safety: 'Safety',
    tools: 'Tools',
    shopping: 'Shopping list',
    shoppingShort: 'Shopping',
    cutList: 'Cut list',
    layouts: 'Cutting layouts',
    layoutsShort: 'Layouts',
    drawings: 'Drawings',
    views: 'Views',
    steps: 'Steps',
    partSheets: 'Part sheets',
    before: 'Before the first step',
    step: 'Step',
    notes: 'Notes',
    finish: 'Finish',
    revisions: 'Revisions',
    licence: us ? 'License' : 'Licence',
    colCut: 'Cut',
    colPart: 'Part',
    colName: 'Name',
    colNumber: 'No.',
    colFrom: 'From',
    colThick: 'Thick',
    colWide: 'Wide',
    colLong: 'Long',
    colNote: 'Note',
    colGot: 'Got',
    colStock: 'Stock',
    colSection: 'Real size',
    colBuy: 'Buy',
    colNeeded: 'Needed',
    colPackage: 'Package',
    colItem: 'Item',
    colSize: 'Size',
    colEach: 'Each',
    colCost: 'Cost',
    colSet: 'Set',
    sequence: 'Cut sequence',
    boardCuts: 'Cuts, board by board',
    boardCutsOpening:
      'Crosscuts are set at the stop, rips at the fence. What you want always lies between stop or fence and blade; what lies beyond the blade goes on to the next cut, or is left over. An edge that is named lies at the fence.',
    colBoard: 'Board',
    colFact: 'Fact',
    colValue: 'Value',
    sawSettings: 'Saw settings',
    leftOver: 'Left over',
    onHand: 'Not bought, since it is there:',
    colInto: 'Into parts',
    colWaste: 'Waste',
    colKeep: 'Left over, worth keeping',
    colSetting: 'At',
    colDone: 'Done',
    colPiece: 'Piece',
    colKind: 'How',
    colFence: 'Fence at',
    colEdge: 'Edge at fence',
    colGives: 'Gives',
    colCuts: 'Cuts',
    colPieces: 'Pieces',
    boards: 'Boards',
    hardware: 'Hardware',
    parts: 'Parts',
    screws: 'Screws and nails',
    sets: 'built before',
    what: 'What changed',
    date: 'Date',
    safetyShort: 'Read this sheet before the first cut.',
    safetyOpening:
      'Read this sheet before the first cut. Where your local code or the instructions of your tool maker say otherwise, they come first.',
  };
}

/** The paper in words. */
export const paperName = (paper: Edition['paper']): string => (paper === 'letter' ? 'US Letter' : 'A4');

/** A share as `95 %` (NIST SP 811, 7.10.2: a space before the sign), cut to whole per cents, so that 100 % means all of it. */
export const percent = (share: number): string => `${Math.floor(share * 100 + 1e-9)}\u00a0%`;

const SIGNS: Readonly<Record<string, string>> = {
  USD: '$',
  CAD: '$',
  AUD: '$',
  NZD: '$',
  GBP: '£',
  EUR: '€',
};
/** Currencies without a smaller unit (ISO 4217). */
const WHOLE = ['JPY', 'KRW', 'CLP', 'ISK', 'VND'];

/** An amount for a column of figures: always as many decimals as the currency has, so that the points stand in line. */
export function amount(value: number, currency: string): string {
  const figures = value.toFixed(WHOLE.includes(currency) ? 0 : 2);
  const sign = SIGNS[currency];
  return sign === undefined ? `${figures}\u00a0${currency}` : `${sign}${figures}`;
}
