/**
 * `npm run bench`: what publishing costs. Every ratio is to a floor measured in the same run on the same machine, so that it says the
 * same on a fast machine and a slow one.
 */
import { type ChildProcess, execFileSync, spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { get } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';
import { type BuildInput, buildShop, computeShop, finishPlan } from '../../src/build.ts';
import { packageFile, realDisk } from '../../src/disk.ts';
import { FONT_FILES } from '../../src/publish/pdf/typst.ts';
import { noCache } from '../../src/shell/cache.ts';
import { pdfJobs } from '../../src/shell/pdfs.ts';
import { localPool } from '../../src/shell/pool.ts';
import type { Progress } from '../../src/shell/terminal.ts';
import { perform, type Task } from '../../src/tasks.ts';
import { benchCutting } from './cutting.ts';
import { benchDrawings } from './drawings.ts';
import type { FloorWork } from './floor.ts';
import { benchHiddenLines } from './hidden-lines.ts';

// This file runs bundled, one folder below the root: see .ci/ts.mjs.
const root = fileURLToPath(new URL('..', import.meta.url));
const main = join(root, 'build/main.js');
const floorFile = join(root, '.kerfleaf/floor.mjs');
const shop = mkdtempSync(join(tmpdir(), 'kerfleaf-bench-'));
/** The plans that are published. */
const PLANS = ['nest-box', 'potting-bench'];
const PLAN = join(shop, 'content/plans/potting-bench/plan.md');
/** The size that is edited: it moves the legs, the worktop and all that hangs from it. */
const SIZE = 'worktop-height: 36 in | 900 mm';
const REPEATS = 5;

const disk = realDisk();
const silent: Progress = { say: () => {}, clear: () => {} };
const pool = localPool<Task>(perform);
const input: BuildInput = { disk, shop, plans: [], cache: noCache, progress: silent, pool };

const median = (times: readonly number[]): number =>
  [...times].sort((a, b) => a - b)[Math.floor(times.length / 2)] ?? Number.NaN;

function timed(work: () => void): number {
  const start = performance.now();
  work();
  return performance.now() - start;
}

function table(title: string, rows: readonly (readonly [string, number, string?])[]): void {
  console.log(`\n${title}`);
  const width = Math.max(...rows.map(([name]) => name.length));
  for (const [name, ms, more] of rows)
    console.log(
      `  ${name.padEnd(width)}  ${ms.toFixed(ms < 10 ? 1 : 0).padStart(7)} ms${more ? `   ${more}` : ''}`,
    );
}

const publish = (): void => {
  execFileSync(process.execPath, [main, 'publish', '--quiet', '--shop', shop], {
    stdio: ['ignore', 'ignore', 'ignore'],
  });
};

/** Writes the plan with another height of the worktop; `turn` picks one that the plan didn't have before. */
let text = '';
function editSize(turn: number): void {
  if (!text.includes(SIZE)) throw new Error(`the demo plan has no "${SIZE}"`);
  writeFileSync(
    PLAN,
    text.replace(SIZE, `worktop-height: ${35 + (turn % 8) / 4} in | ${880 + 5 * (turn % 8)} mm`),
  );
}

/** What the same documents cost without us. */
async function floorWork(): Promise<FloorWork> {
  const computed = await computeShop(input);
  const { source, theme } = computed;
  if (source === undefined || theme === undefined) throw new Error('the demo shop has faults');
  const bundles = [];
  for (const plan of computed.plans) bundles.push(await finishPlan(plan, input));
  const fonts = FONT_FILES.map((name) => disk.read(packageFile(name)));
  const jobs = pdfJobs({ bundles, shop: source.shop, theme, fonts });
  const base64 = (content: Uint8Array | string) => Buffer.from(content).toString('base64');
  return {
    markdown: computed.plans.map(({ slug }) =>
      readFileSync(join(shop, `content/plans/${slug}/plan.md`), 'utf8'),
    ),
    fonts: fonts.map(base64),
    documents: jobs.map((job) => ({
      main: job.main,
      files: [...job.files].map(([name, content]) => [name, base64(content)] as const),
    })),
  };
}

async function benchPublish(): Promise<void> {
  await build({
    entryPoints: [join(root, 'tests/bench/floor.ts')],
    outfile: floorFile,
    bundle: true,
    format: 'esm',
    platform: 'node',
    packages: 'external',
    logLevel: 'warning',
  });
  const workFile = join(shop, 'floor.json');
  writeFileSync(workFile, JSON.stringify(await floorWork()));
  const times = { floor: [] as number[], cold: [] as number[], same: [] as number[], edit: [] as number[] };
  // In turn, so that whatever else the machine does meanwhile slows all of them alike.
  for (let turn = 0; turn < REPEATS; turn += 1) {
    times.floor.push(timed(() => execFileSync(process.execPath, [floorFile, workFile], { stdio: 'ignore' })));
    writeFileSync(PLAN, text);
    rmSync(join(shop, '.kerfleaf'), { recursive: true, force: true });
    times.cold.push(timed(publish));
    times.same.push(timed(publish));
    editSize(turn);
    times.edit.push(timed(publish));
  }
  writeFileSync(PLAN, text);
  const floor = median(times.floor);
  const ratio = (ms: number) => `${(ms / floor).toFixed(2)} × floor`;
  const goal = 3 * floor + 1000;
  const cold = median(times.cold);
  table(`Publishing both demo plans, Node's start included, median of ${REPEATS}`, [
    ['floor: Markdown to HTML and Typst to PDF alone', floor],
    [
      'cold',
      cold,
      `${ratio(cold)}; at most 3 × floor + 1 s = ${goal.toFixed(0)} ms: ${cold <= goal ? 'met' : 'missed'}`,
    ],
    ['without a change', median(times.same), ratio(median(times.same))],
    ['after an edit of one size', median(times.edit), ratio(median(times.edit))],
  ]);
}

/** What a task does, as the table says it. */
const KINDS: Readonly<Record<Task['kind'], string>> = {
  boards: 'board layouts',
  sheets: 'sheet layouts',
  overlaps: 'boards in each other',
  draw: 'drawings',
  models: 'models',
  pdf: 'PDFs',
};

/**
 * Time of each phase, from the progress that a run tells, and of the tasks that threads share by kind; processor time beside it, which
 * counts other threads (pictures, the engine's own) and says the same on a machine that has other things to do.
 */
async function benchPhases(): Promise<void> {
  for (const round of ['first run in a process', 'second run, libraries loaded']) {
    const clock = () => ({ at: performance.now(), used: processorTime() });
    const marks: { what: string; at: number; used: number }[] = [];
    const progress: Progress = { say: (what) => marks.push({ what, ...clock() }), clear: () => {} };
    const kinds = new Map<string, { count: number; ms: number; used: number }>();
    const timedPool = localPool<Task>(async (task) => {
      const start = clock();
      const done = await perform(task);
      const end = clock();
      const had = kinds.get(task.kind) ?? { count: 0, ms: 0, used: 0 };
      kinds.set(task.kind, {
        count: had.count + 1,
        ms: had.ms + end.at - start.at,
        used: had.used + end.used - start.used,
      });
      return done;
    });
    await buildShop({ ...input, progress, pool: timedPool });
    const end = clock();
    const processor = (ms: number) => `${ms.toFixed(0)} ms of processors`;
    table(
      `Phases, one thread, no cache: ${round}`,
      marks.map(({ what, at, used }, index) => {
        const next = marks[index + 1] ?? end;
        return [what, next.at - at, processor(next.used - used)];
      }),
    );
    table(
      `Tasks among them: ${round}`,
      [...kinds].map(([kind, { count, ms, used }]) => [
        `${KINDS[kind as Task['kind']]} (${count})`,
        ms,
        processor(used),
      ]),
    );
  }
}

/** Milliseconds that all threads of this process have worked. */
function processorTime(): number {
  const { user, system } = process.cpuUsage();
  return (user + system) / 1000;
}

/** Time from saving an edit of one size to the new page, as the browser is told of it. */
async function benchPreview(): Promise<void> {
  const server: ChildProcess = spawn(process.execPath, [main, 'preview', '--port', '0', '--shop', shop], {
    stdio: ['ignore', 'pipe', 'ignore'],
  });
  const address = await new Promise<string>((resolve) => {
    server.stdout?.once('data', (said) => resolve(String(said).trim().split('\n')[0] as string));
  });
  let told: (() => void) | undefined;
  let version = -1;
  get(`${address}-kerfleaf/events`, (response) => {
    response.on('data', (event) => {
      const state: { version: number } = JSON.parse(String(event).slice('data: '.length));
      if (state.version === version) return;
      version = state.version;
      told?.();
    });
    response.on('error', () => {});
  }).on('error', () => {});
  const next = (): Promise<void> =>
    new Promise((resolve) => {
      told = resolve;
    });
  while (version < 1) await next();
  const times: number[] = [];
  for (let turn = 0; turn < REPEATS; turn += 1) {
    const start = performance.now();
    const shown = next();
    editSize(turn);
    await shown;
    times.push(performance.now() - start);
    await new Promise((done) => setTimeout(done, 300));
  }
  writeFileSync(PLAN, text);
  const ended = new Promise((resolve) => server.once('exit', resolve));
  server.kill('SIGINT');
  await ended;
  const ms = median(times);
  table('Preview', [
    ['an edit of one size, saved to shown', ms, `at most 1000 ms: ${ms <= 1000 ? 'met' : 'missed'}`],
  ]);
}

/** Our PDFs against a browser that prints the page of the same plan, each as a program of its own, its start included. */
async function benchPrinting(): Promise<void> {
  const browser = process.env.CHROMIUM_PATH ?? '/usr/bin/chromium';
  if (!existsSync(browser)) {
    console.log('\nPrinting: no Chromium, so nothing to measure against; CHROMIUM_PATH names one');
    return;
  }
  const work = await floorWork();
  const workFile = join(shop, 'nest-box.json');
  writeFileSync(workFile, JSON.stringify({ ...work, markdown: [], documents: work.documents.slice(0, 1) }));
  publish();
  const page = join(shop, 'dist/site/plans/nest-box/index.html');
  const words = [
    ...['--headless', '--no-sandbox', '--disable-gpu', '--disable-background-networking'],
    `--user-data-dir=${join(shop, 'browser')}`,
    `--print-to-pdf=${join(shop, 'page.pdf')}`,
    `file://${page}`,
  ];
  const ours: number[] = [];
  const theirs: number[] = [];
  for (let turn = 0; turn < REPEATS; turn += 1) {
    ours.push(timed(() => execFileSync(process.execPath, [floorFile, workFile], { stdio: 'ignore' })));
    theirs.push(timed(() => execFileSync(browser, words, { stdio: 'ignore' })));
  }
  const [one, other] = [median(ours), median(theirs)];
  table(`The nest box as PDF, one edition, median of ${REPEATS}`, [
    ['Typst, as publish makes it', one],
    ['headless Chromium prints the page', other, `${(other / one).toFixed(1)} × ours`],
  ]);
}

try {
  mkdirSync(join(shop, 'content'));
  cpSync(join(root, 'content'), join(shop, 'content'), { recursive: true });
  // Two plans, as the goal names them: what the demo shop sells besides would only make all figures larger.
  for (const other of readdirSync(join(shop, 'content/plans')))
    if (!PLANS.includes(other)) rmSync(join(shop, 'content/plans', other), { recursive: true });
  const file = join(shop, 'content/shop.yaml');
  writeFileSync(
    file,
    readFileSync(file, 'utf8').replace(/^ {2}(?:coat-rack|step-stool|window-seat): .*\n/gm, ''),
  );
  text = readFileSync(PLAN, 'utf8');
  await benchPhases();
  await benchPublish();
  await benchPreview();
  await benchPrinting();
  table(
    'Board layouts',
    (await benchCutting()).map(({ name, ms, gap }) => [
      name,
      ms,
      gap === 0 ? 'proved best' : `within ${(100 * gap).toFixed(2)} % of the bound`,
    ]),
  );
  table(
    'Solids and hidden lines',
    (await benchHiddenLines()).map(({ name, ms, more }) => [name, ms, more ?? ''] as const),
  );
  table(
    'Drawings of the demo plans',
    (await benchDrawings()).map(({ name, count, ms, perSecond }) => [
      `${name} (${count})`,
      ms,
      `${perSecond.toFixed(1)} a second`,
    ]),
  );
} finally {
  rmSync(shop, { recursive: true, force: true });
}
