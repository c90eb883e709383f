/** What each kind of drawing costs: time a drawing and drawings a second, on the demo plans, sheet and phone together. */

import { composeExploded } from '../../src/draw/apart/exploded.ts';
import { type Composed, Desk } from '../../src/draw/desk.ts';
import { loadSvg } from '../../src/draw/index.ts';
import { composeLayouts } from '../../src/draw/layouts/layouts.ts';
import { partSheets } from '../../src/draw/parts/part-rows.ts';
import { composePart } from '../../src/draw/parts/part-sheet.ts';
import { composePictorial } from '../../src/draw/shading/pictorial.ts';
import { composeStep } from '../../src/draw/steps/step.ts';
import { stepScenes } from '../../src/draw/steps/step-scenes.ts';
import { composeTemplates } from '../../src/draw/templates/template.ts';
import { composeViews } from '../../src/draw/views/views.ts';
import { demoWorks, repository } from '../draw/demo-work.ts';

/** Kinds, each composed for a desk; the SVG is written too, as for publishing. */
const KINDS: Readonly<Record<string, (desk: Desk) => (Composed | undefined)[]>> = {
  pictorial: (desk) => [composePictorial(desk, 'cover', 'sheet')],
  views: (desk) => [composeViews(desk, 'sheet')],
  exploded: (desk) => [composeExploded(desk, 'sheet')],
  steps: (desk) => stepScenes(desk).map((scene) => composeStep(desk, scene, 'sheet')),
  layouts: (desk) => [...composeLayouts(desk, 'sheet')],
  'part sheets': (desk) => partSheets(desk).map((sheet) => composePart(desk, sheet, 'sheet')),
  templates: (desk) => composeTemplates(desk),
};

/** Each kind over all demo plans and editions: how many drawings, milliseconds each, drawings a second. */
export async function benchDrawings(): Promise<
  { name: string; count: number; ms: number; perSecond: number }[]
> {
  await loadSvg();
  const works = await demoWorks(repository);
  return Object.entries(KINDS).map(([name, compose]) => {
    let count = 0;
    let ms = 0;
    for (const { work } of works) {
      // a desk and parts of its own, so that no kind profits from what another has projected
      const parts = work.parts.map((part) => ({ ...part }));
      const start = performance.now();
      const desk = new Desk({ ...work, parts });
      for (const composed of compose(desk)) {
        if (!composed) continue;
        desk.finish(composed, 'sheet');
        count++;
      }
      ms += performance.now() - start;
    }
    return { name, count, ms: ms / Math.max(1, count), perSecond: (count * 1000) / ms };
  });
}
