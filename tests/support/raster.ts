/** Pages of a PDF as pixels, through poppler: what counts is what a printer is sent. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export interface Grey {
  readonly width: number;
  readonly height: number;
  readonly dark: (x: number, y: number) => boolean;
}

/** A page as grey pixels, so many to the inch: poppler's PGM, a header and a byte a pixel. */
export function raster(pdf: Uint8Array, page: number, dpi: number): Grey {
  const folder = mkdtempSync(join(tmpdir(), 'kerfleaf-raster-'));
  try {
    const file = join(folder, 't.pdf');
    writeFileSync(file, pdf);
    execFileSync('pdftoppm', [
      ...['-r', `${dpi}`, '-gray', '-f', `${page}`, '-l', `${page}`, '-singlefile'],
      file,
      join(folder, 'p'),
    ]);
    const bytes = readFileSync(join(folder, 'p.pgm'));
    const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(
      bytes.subarray(0, 40).toString('latin1'),
    ) as RegExpExecArray;
    const [width, height] = [Number(head[1]), Number(head[2])];
    const start = head[0].length;
    return { width, height, dark: (x, y) => (bytes[start + y * width + x] as number) < 128 };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
