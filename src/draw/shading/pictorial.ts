/** Pictorials of the finished piece: the cover, and a small one for the summary. */

import { planTitle } from '../../model/naming.ts';
import type { Viewpoint } from '../../read/types.ts';
import { text } from '../../text.ts';
import { printedAngle } from '../../units.ts';
import { type Composed, type Desk, NARROW_WIDTH, type Place } from '../desk.ts';
import type { Room, ViewPicture } from '../types.ts';
import { finishedMarks, onPaper } from './shade.ts';
import { copiesShown, deskFor } from './turned.ts';

/** Where a pictorial is seen from where the plan doesn't say: the front to the left of the picture, the right side to the right. */
export const USUAL_VIEWPOINT: Viewpoint = { depth: 'front', side: 'right', height: 'above' };

/** Cover and summary sizes, mm. */
const COVER: Room = { width: 178, height: 150 };
/** A title of more characters takes two lines, and then Letter has less room under it. */
const ONE_LINE = 24;
const LOW_COVER: Room = { width: 178, height: 132 };
const SUMMARY: Room = { width: 62, height: 85 };
/** At the head of a page, where a millimetre is about four pixels. */
const PLATE: Room = { width: 145, height: 200 };

/** Paper mm per mm of the view, so that a picture fills a room, its line widths inside. */
export const ratioFor = (picture: ViewPicture, room: Room): number =>
  Math.min(
    (room.width - 2) / Math.max(picture.max[0] - picture.min[0], 1e-6),
    (room.height - 2) / Math.max(picture.max[1] - picture.min[1], 1e-6),
  );

/** The finished piece on its own. */
export function composePictorial(closed: Desk, size: 'cover' | 'summary' | 'plate', place: Place): Composed {
  const { edition } = closed.plan;
  const room =
    size === 'summary'
      ? SUMMARY
      : size === 'plate'
        ? PLATE
        : place === 'narrow'
          ? { width: NARROW_WIDTH - 1, height: 120 }
          : edition.paper === 'letter' && planTitle(closed.plan).length > ONE_LINE
            ? LOW_COVER
            : COVER;
  // The plan may name one of its drawings, of the piece with its lid open for instance; its sizes are left off.
  const wanted = closed.input.instructions.picture;
  const desk = wanted === undefined ? closed : deskFor(closed, wanted);
  const from = wanted === undefined || typeof wanted.from === 'string' ? USUAL_VIEWPOINT : wanted.from;
  const asked = wanted === undefined ? [] : copiesShown(desk, wanted);
  const copies = asked.length > 0 ? asked : [...desk.all];
  const picture = desk.picture(desk.withFittings(copies), from);
  const view = onPaper(picture, ratioFor(picture, room));
  const { title } = desk.plan.front;
  const open = wanted?.open === undefined ? '' : `, open by ${printedAngle(Math.abs(wanted.open.angle))}`;
  return {
    id: size === 'cover' ? 'pictorial' : size === 'plate' ? 'plate' : 'pictorial-small',
    kind: size === 'plate' ? 'plate' : 'pictorial',
    title: `${title}, finished`,
    caption: [text(`${title}, finished.`)],
    alt: `${title}${open}, seen ${viewpointWords(from)}: ${closed.overall(closed.all)}${open === '' ? '' : ' when closed'}. ${partsInWords(desk)}`,
    marks: finishedMarks(view, desk.parts),
    scale: 'not to scale',
  };
}

/** `Its parts: leg, apron, top board.` */
function partsInWords(desk: Desk): string {
  const names = desk.plan.parts.map((part) => part.name.toLowerCase());
  return names.length === 0 ? '' : `Its parts: ${names.join(', ')}.`;
}

/** `from the front, the right and above` */
export const viewpointWords = (from: Viewpoint): string =>
  from.turned === undefined || from.raised === undefined
    ? `from the ${from.depth}, the ${from.side} and ${from.height}`
    : `from the ${from.depth}, ${from.turned}° to the ${from.side} and ${from.raised}° ${from.height}`;
