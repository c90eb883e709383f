/** All drawings of a plan in an edition, composed for its paper and again for a phone. */

import { composeExploded } from './apart/exploded.ts';
import { type Composed, Desk, type DrawInput, type Place } from './desk.ts';
import { composeLayouts } from './layouts/layouts.ts';
import { composeSheets } from './layouts/sheet-layouts.ts';
import { type PartSheet, partSheets } from './parts/part-rows.ts';
import { composePart } from './parts/part-sheet.ts';
import { composeRequest } from './requests.ts';
import { composePictorial } from './shading/pictorial.ts';
import { composeStep } from './steps/step.ts';
import { type StepScene, sampleScenes, stepScenes } from './steps/step-scenes.ts';
import { composeTemplates } from './templates/template.ts';
import type { Drawing, DrawingSet } from './types.ts';
import { composeViews } from './views/views.ts';

export type { DrawInput } from './desk.ts';
export { loadSvg } from './svg.ts';

/** Draws a plan: same input, same bytes. `loadSvg` must have been awaited once before. */
export function drawPlan(input: DrawInput): DrawingSet {
  if (input.parts.length === 0) return { drawings: [], narrow: [] };
  const desk = new Desk(input);
  const scenes = stepScenes(desk);
  const phone = input.page === undefined || input.page === 'whole';
  return {
    drawings: drawingsFor(desk, scenes, 'sheet'),
    narrow: phone ? drawingsFor(desk, scenes, 'narrow') : [],
  };
}

function drawingsFor(desk: Desk, scenes: readonly StepScene[], place: Place): Drawing[] {
  const composed = [
    ...(desk.input.pageOnly === true ? [] : forPlan(desk, scenes, place)),
    ...(place === 'sheet' ? forPage(desk, scenes) : []),
  ];
  return composed.flatMap((drawing) => (drawing ? [desk.finish(drawing, place)] : []));
}

/** What the plan shows, on its sheets and, where it is free, on its page. */
function forPlan(desk: Desk, scenes: readonly StepScene[], place: Place): (Composed | undefined)[] {
  const layouts = composeLayouts(desk, place);
  return [
    composePictorial(desk, 'cover', place),
    composePictorial(desk, 'summary', place),
    composeViews(desk, place),
    composeExploded(desk, place),
    ...layouts,
    ...composeSheets(desk, place, layouts),
    ...scenes.map((scene) => composeStep(desk, scene, place)),
    ...(place === 'sheet' ? scenes.map((scene) => composeStep(desk, scene, place, 'half')) : []),
    ...partSheets(desk).flatMap((sheet) => partDrawings(desk, sheet, place)),
    ...desk.input.instructions.requests.map((request) => composeRequest(desk, request, place)),
    ...(place === 'sheet' ? composeTemplates(desk) : []),
  ];
}

/** A board's sheet, and its drawing for half a sheet where that is another one. */
function partDrawings(desk: Desk, sheet: PartSheet, place: Place): (Composed | undefined)[] {
  const whole = composePart(desk, sheet, place);
  return whole === undefined || place === 'narrow'
    ? [whole]
    : [whole, composePart(desk, sheet, place, whole)];
}

/** Drawings for the page that sells the plan, which carry no size and no scale. */
function forPage(desk: Desk, scenes: readonly StepScene[]): (Composed | undefined)[] {
  const { page } = desk.input;
  if (page === 'none') return [];
  const samples = page === 'whole' ? [] : sampleScenes(scenes);
  return [
    composePictorial(desk, 'plate', 'sheet'),
    ...samples.map((scene) => composeStep(desk, scene, 'sheet', 'sample')),
  ];
}
