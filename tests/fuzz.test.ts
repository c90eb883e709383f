/**
 * Random edits of the demo plans: whatever a maker's hand does to a plan, the program neither crashes nor hangs, and each thing
 * it says has a place that exists.
 *
 * KERFLEAF_FUZZ sets the number of runs; `npm run hunt` takes other edits each time.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { cutList } from '../src/cutting/cut-list.ts';
import type { Diagnostic } from '../src/diagnostics.ts';
import { writeInstructions } from '../src/instructions/index.ts';
import { findJoinery } from '../src/joinery/index.ts';
import { buildPlan } from '../src/model/plan.ts';
import { readShop } from '../src/read/shop.ts';
import { edited, edits } from './support/edits.ts';
import { fc, SEED } from './support/random.ts';

const RUNS = Number(process.env.KERFLEAF_FUZZ ?? 1000);
/** A run that takes longer hangs, for a maker who waits: both editions take some tens of milliseconds. */
const LONGEST = 5000;

const content = fileURLToPath(new URL('../content', import.meta.url));
const files = new Map<string, string>();

beforeAll(() => {
  for (const entry of readdirSync(content, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile()) continue;
    const file = `${entry.parentPath}/${entry.name}`;
    const name = `content${file.slice(content.length)}`;
    files.set(name, /\.(md|yaml)$/.test(name) ? readFileSync(file, 'utf8') : '');
  }
});

/** The front end on a shop: everything that reads what an author wrote, in both editions. */
async function frontEnd(shopFiles: ReadonlyMap<string, string>): Promise<Diagnostic[]> {
  const read = await readShop(shopFiles);
  const found = [...read.diagnostics];
  for (const source of read.value?.plans ?? [])
    for (const edition of read.value?.shop.editions ?? []) {
      if (read.value === undefined) continue;
      const { value: plan, diagnostics } = buildPlan(source, edition, read.value);
      found.push(...diagnostics);
      if (plan === undefined) continue;
      const joinery = findJoinery(plan, read.value.hardware);
      const list = cutList(plan);
      const instructions = writeInstructions({ plan, cutList: list, joinery, shop: read.value.shop });
      found.push(...joinery.diagnostics, ...instructions.diagnostics);
    }
  return found;
}

/** What is wrong with the place of a finding, or nothing. */
function placeFault(
  { id, message, origin }: Diagnostic,
  shopFiles: ReadonlyMap<string, string>,
): string | undefined {
  const said = `${id} at ${origin.file}:${origin.line}:${origin.column}: ${message}`;
  const text = shopFiles.get(origin.file);
  if (text === undefined) return `no such file: ${said}`;
  const lines = text.split(/\r\n|\n|\r/);
  if (!Number.isInteger(origin.line) || origin.line < 1 || origin.line > lines.length)
    return `no such line: ${said}`;
  const line = lines[origin.line - 1] ?? '';
  // One past the end of a line is where something is missing.
  if (!Number.isInteger(origin.column) || origin.column < 1 || origin.column > line.length + 1)
    return `no such column: ${said}`;
  return undefined;
}

describe.each(['nest-box', 'potting-bench'])('random edits of %s', (slug) => {
  const file = `content/plans/${slug}/plan.md`;

  it(`neither crash nor hang, and each message has a place (${RUNS} runs, seed ${SEED})`, async () => {
    const text = files.get(file);
    expect(text).toBeDefined();
    let faulty = 0;
    await fc.assert(
      fc.asyncProperty(edits, async (list) => {
        // Only this plan, so that a run tells on one edit and takes little time.
        const shopFiles = new Map(
          [...files].filter(([name]) => !name.startsWith('content/plans/') || name === file),
        );
        shopFiles.set(file, edited(text as string, list));
        const start = performance.now();
        const found = await frontEnd(shopFiles);
        const took = performance.now() - start;
        if (found.length > 0) faulty += 1;
        expect(
          found.map((item) => placeFault(item, shopFiles)).filter((fault) => fault !== undefined),
        ).toEqual([]);
        expect(took).toBeLessThan(LONGEST);
      }),
      { numRuns: RUNS },
    );
    // Edits that no message comes of would test nothing.
    expect(faulty).toBeGreaterThan(RUNS / 10);
  }, 600_000);
});
