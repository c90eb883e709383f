/** The photo on the cover of a plan's sheets: the one at the head of its page, upright, whole, without camera data. */
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { planPdf } from '../../src/publish/pdf/pdf.ts';
import type { TypstCompiler } from '../../src/publish/pdf/typst.ts';
import { headPhoto, withCover } from '../../src/publish/pictures/cover.ts';
import { darkroom } from '../../src/publish/pictures/darkroom.ts';
import type { FinishedPlan } from '../../src/publish/types.ts';
import { paidBundle } from '../support/bundle.ts';
import { finishedBench, metric, shop } from '../support/finished.ts';
import { bytesText, handbookTheme, pageTexts, typstForTests } from '../support/pdf.ts';

let typst: TypstCompiler;
beforeAll(async () => {
  typst = await typstForTests();
});

/** A photo as a camera held upright writes it: lying, with the turn that sets it up (Exif orientation 6), and with a place in its data. */
const cameraFile = (width: number, height: number): Promise<Buffer> =>
  sharp({ create: { width: height, height: width, channels: 3, background: '#b08040' } })
    .withMetadata({ orientation: 6, exif: { IFD0: { ImageDescription: 'the yard behind the house' } } })
    .jpeg()
    .toBuffer();

/** The bench with a photo of a size on its cover. */
async function covered(width: number, height: number, alt = 'The bench by the wall'): Promise<FinishedPlan> {
  const photo = { file: 'bench.jpg', alt };
  const bench = finishedBench(metric);
  const bundle = {
    ...paidBundle,
    front: { ...paidBundle.front, photos: [photo] },
    editions: [{ edition: metric, finished: bench }],
  };
  const file = new Uint8Array(await cameraFile(width, height));
  const made = await withCover(bundle, () => file, darkroom());
  return made.editions[0]?.finished as FinishedPlan;
}

function sheets(finished: FinishedPlan): Uint8Array {
  const { value, diagnostics } = planPdf({ finished, shop, theme: handbookTheme(), typst });
  expect(diagnostics).toEqual([]);
  return value as Uint8Array;
}

describe('the photo on the cover', () => {
  const photos = [
    { file: 'a.jpg', alt: 'A' },
    { file: 'b.jpg', alt: 'B' },
  ];
  const named = (text: string) => ({ text, origin: { file: 'plan.md', line: 2, column: 1 } });

  it('is the one the plan names, else the first; a drawing that it names stands there instead', () => {
    expect(headPhoto({ photos })?.file).toBe('a.jpg');
    expect(headPhoto({ photos, picture: named('b.jpg') })?.file).toBe('b.jpg');
    expect(headPhoto({ photos, picture: named('open-lid') })).toBeUndefined();
    expect(headPhoto({ photos: [] })).toBeUndefined();
  });

  it.each([
    ['lying', 1200, 800],
    ['standing', 800, 1600],
  ])('stands there whole and upright, on one sheet, %s', async (_, width, height) => {
    const finished = await covered(width, height);
    const [pdf, without] = [sheets(finished), sheets(finishedBench(metric))];
    // 1800 pixels at most, never enlarged: as large as the file, turned upright.
    expect([finished.cover?.width, finished.cover?.height]).toEqual([width, height]);
    const images = bytesText(pdf)
      .split(/\bendobj\b/)
      .filter((object) => /\/Subtype \/Image\b/.test(object))
      .map((object) => [/\/Width (\d+)/.exec(object)?.[1], /\/Height (\d+)/.exec(object)?.[1]]);
    expect(images).toEqual([[`${width}`, `${height}`]]);
    expect(pageTexts(pdf)).toHaveLength(pageTexts(without).length);
    // the drawing has given its place
    expect(pageTexts(pdf)[0]).not.toContain('drawing pictorial');
    expect(pageTexts(without)[0]).toContain('drawing pictorial');
  });

  it('has its words for those who can’t see it, and no data of the camera', async () => {
    const finished = await covered(600, 400);
    const pdf = bytesText(sheets(finished));
    expect(bytesText(finished.cover?.content as Uint8Array)).not.toContain('yard');
    expect(pdf).not.toContain('yard');
    expect(pdf).toMatch(/\/S \/Figure\b[\s\S]*\/Alt \(The bench by the wall\)/);
  });

  it('comes out the same twice', async () => {
    expect(sheets(await covered(600, 400))).toEqual(sheets(await covered(600, 400)));
  });
});
