/** The command line: arguments in, report and exit code out. Each command loads what it needs, and threads start before that. */
import { isAbsolute, resolve } from 'node:path';
import type { BuildInput, Built, ComputedShop } from './build.ts';
import { hasErrors } from './diagnostics.ts';
import { type Disk, DiskFault, programFolder, realDisk } from './disk.ts';
import { type Asked, type Command, readArguments } from './shell/args.ts';
import { diskCache, noCache } from './shell/cache.ts';
import { helpText } from './shell/help.ts';
import { localPool, type Pool, threadPool } from './shell/pool.ts';
import { countText, reportJson, reportText } from './shell/report.ts';
import { outputProblem, recover, swapIn } from './shell/swap.ts';
import { type Progress, progressOn, type Terminal } from './shell/terminal.ts';
import type { Task } from './tasks.ts';

/** Exit codes, as `--help` and the README list them. */
export const EXIT = { done: 0, faults: 1, usage: 2, bug: 3 } as const;

type Given = Extract<Asked, { ok: true }>;

/** What a command that reads a shop works with. `shop` is the shop's folder. */
interface Run {
  readonly shop: string;
  readonly terminal: Terminal;
  readonly progress: Progress;
  readonly disk: Disk;
  readonly quiet: boolean;
}

/** Runs one command. Never throws: a bug of ours is reported as such. `disk` is the real one unless a test hands another. */
export async function run(
  words: readonly string[],
  terminal: Terminal,
  disk: Disk = realDisk(),
): Promise<number> {
  const asked = readArguments(words);
  if (!asked.ok) {
    const more = asked.command === undefined ? 'kerfleaf --help' : `kerfleaf ${asked.command} --help`;
    terminal.err(`kerfleaf: ${asked.problem}\n    ${more} lists what there is\n`);
    return EXIT.usage;
  }
  const progress = progressOn(terminal, asked.quiet);
  try {
    return await obey(asked, asked.command, terminal, progress, disk);
  } catch (error) {
    progress.clear();
    if (error instanceof DiskFault) {
      terminal.err(`kerfleaf: ${error.message}\n`);
      return EXIT.usage;
    }
    const stack = error instanceof Error ? (error.stack ?? error.message) : String(error);
    terminal.err(
      `kerfleaf: this is a bug of the program, not of your plan. Please report it with these lines:\n${versionText(disk)}, Node ${process.version}, ${process.platform}: ${words.join(' ')}\n${stack}\n`,
    );
    return EXIT.bug;
  }
}

async function obey(
  asked: Given,
  command: Command,
  terminal: Terminal,
  progress: Progress,
  disk: Disk,
): Promise<number> {
  if (command.name === 'help') {
    terminal.out(`${helpText(command.of)}\n`);
    return EXIT.done;
  }
  if (command.name === 'version') {
    terminal.out(`${versionText(disk)}\n`);
    return EXIT.done;
  }
  const shop = resolve(asked.shop);
  if (!disk.isFolder(shop)) return refuse(terminal, `there is no folder ${asked.shop}`);
  if (command.name === 'draft') return draft(command.slug, shop, terminal, asked.quiet, disk);
  if (!disk.isFolder(`${shop}/content`))
    return refuse(
      terminal,
      `there is no folder content/ in ${shop}`,
      'go to the shop\'s folder, name it with --shop, or start one with "kerfleaf draft my-first-plan"',
    );
  const plans =
    command.name === 'publish' || command.name === 'proof'
      ? command.plans
      : command.name === 'figures'
        ? [command.plan]
        : [];
  const unknown = plans.find((plan) => !disk.exists(`${shop}/content/plans/${plan}/plan.md`));
  if (unknown !== undefined) {
    const known = disk.names(`${shop}/content/plans`);
    return refuse(
      terminal,
      `there is no plan "${unknown}" in content/plans/`,
      known.length === 0
        ? 'there is no plan yet; "kerfleaf draft" writes one'
        : `the plans are ${known.join(', ')}`,
    );
  }
  const run: Run = { shop, terminal, progress, disk, quiet: asked.quiet };
  switch (command.name) {
    case 'publish':
      return publish(command, run);
    case 'proof':
      return proof(command, run);
    case 'figures':
      return figuresOf(command, run);
    case 'preview': {
      const pool = poolOf();
      pool.ahead();
      const { preview } = await import('./watch.ts');
      return preview({ disk, shop, port: command.port, terminal, quiet: asked.quiet, pool });
    }
  }
}

function refuse(terminal: Terminal, problem: string, hint?: string): number {
  terminal.err(`kerfleaf: ${problem}\n${hint === undefined ? '' : `    ${hint}\n`}`);
  return EXIT.usage;
}

const versionText = (disk: Disk): string => {
  const described: { version?: unknown } = JSON.parse(
    new TextDecoder().decode(disk.read(`${programFolder()}package.json`)),
  );
  return `kerfleaf ${String(described.version)}`;
};

/** Threads where the program runs built; from source, where no thread could load it, everything is done in this one. */
const poolOf = (): Pool<Task> =>
  isBuilt()
    ? threadPool(new URL('./thread.js', import.meta.url))
    : localPool(async (task) => (await import('./tasks.ts')).perform(task));

const isBuilt = (): boolean => import.meta.url.endsWith('.js');

/** The cache of a shop, or none where the program runs from source, whose changes no stamp tells apart. */
function cacheOf(disk: Disk, shop: string) {
  const stamp = `${programFolder()}build/stamp.txt`;
  if (!isBuilt() || !disk.exists(stamp)) return noCache;
  return diskCache(disk, `${shop}/.kerfleaf/cache`, new TextDecoder().decode(disk.read(stamp)));
}

/** What the pipeline is handed for some plans, with the cache and the pool of this run. */
const inputOf = ({ shop, progress, disk }: Run, plans: readonly string[]): BuildInput => ({
  disk,
  shop,
  plans,
  cache: cacheOf(disk, shop),
  progress,
  pool: poolOf(),
});

async function publish(command: Extract<Command, { name: 'publish' }>, run: Run): Promise<number> {
  const { shop, terminal, progress, disk, quiet } = run;
  const out = command.out === undefined ? `${shop}/dist` : resolve(command.out);
  const problem = outputProblem(disk, out, shop);
  if (problem !== undefined) return refuse(terminal, problem);
  recover(disk, out);
  const dropped = command.plans.length === 0 ? [] : droppedPlans(disk, out, command.plans);
  if (dropped.length > 0)
    return refuse(
      terminal,
      `${out} holds ${dropped.join(', ')}, which would be gone from the site`,
      'publish all plans, or give the named ones a folder of their own with --out',
    );
  const start = disk.now();
  const input = inputOf(run, command.plans);
  input.pool.ahead();
  const { buildShop } = await import('./build.ts');
  const built: Built = await buildShop(input).finally(input.pool.close);
  progress.clear();
  terminal.err(
    reportText(
      built.diagnostics.filter((item) => !quiet || item.severity === 'error' || item.severity === 'warning'),
    ),
  );
  if (built.files === undefined) {
    terminal.err(`Nothing was written: ${countText(built.diagnostics)}.\n`);
    return EXIT.faults;
  }
  progress.say('writing');
  swapIn(disk, out, built.files, `${process.pid}`);
  input.cache.trim();
  progress.clear();
  if (!quiet) {
    const seconds = ((disk.now() - start) / 1000).toFixed(1);
    terminal.out(
      `${built.plans.length} ${built.plans.length === 1 ? 'plan' : 'plans'}, ${built.files.length} files in ${shown(out)} (${seconds} s); ${countText(built.diagnostics)}.\n`,
    );
  }
  return EXIT.done;
}

/** Plans that the output folder holds and that a run for the named ones alone would take away. */
const droppedPlans = (disk: Disk, out: string, plans: readonly string[]): string[] =>
  disk
    .names(`${out}/site/plans`)
    .filter((name) => disk.isFolder(`${out}/site/plans/${name}`) && !plans.includes(name));

/** A folder as the user would type it from here. */
const shown = (folder: string): string => {
  const here = process.cwd();
  return isAbsolute(folder) && folder.startsWith(`${here}/`)
    ? `${folder.slice(here.length + 1)}/`
    : `${folder}/`;
};

/** Computes some plans and publishes nothing. */
async function computed(run: Run, plans: readonly string[]): Promise<ComputedShop> {
  const input = inputOf(run, plans);
  const { computeShop } = await import('./build.ts');
  const made = await computeShop(input).finally(input.pool.close);
  run.progress.clear();
  input.cache.trim();
  return made;
}

async function proof(command: Extract<Command, { name: 'proof' }>, run: Run): Promise<number> {
  const { terminal, quiet } = run;
  const { diagnostics } = await computed(run, command.plans);
  const list = diagnostics.filter((item) => !quiet || item.severity !== 'note');
  terminal.out(command.format === 'json' ? reportJson(list) : reportText(list));
  if (command.format === 'text' && !quiet) terminal.out(`${countText(list)}\n`);
  return hasErrors(diagnostics) ? EXIT.faults : EXIT.done;
}

async function figuresOf(command: Extract<Command, { name: 'figures' }>, run: Run): Promise<number> {
  const { terminal } = run;
  const { plans, diagnostics } = await computed(run, [command.plan]);
  const plan = plans.find((item) => item.slug === command.plan);
  if (hasErrors(diagnostics) || plan === undefined) {
    terminal.err(reportText(diagnostics.filter((item) => item.severity === 'error')));
    return EXIT.faults;
  }
  const variants = [...new Set(plan.editions.flatMap(({ computed: made }) => made.plan.variant ?? []))];
  const variant = command.variant ?? variants[0];
  const made = plan.editions.filter(({ computed: one }) => one.plan.variant === variant);
  if (made.length === 0)
    return refuse(
      terminal,
      `there is no variant "${variant}"`,
      variants.length === 0 ? 'the plan has none' : `the variants are ${variants.join(', ')}`,
    );
  const keys = made.map(({ edition }) => edition.key);
  const wanted = made.find(({ edition }) => edition.key === (command.edition ?? keys[0]));
  if (wanted === undefined)
    return refuse(
      terminal,
      `there is no edition "${command.edition}"`,
      `the editions are ${keys.join(', ')}`,
    );
  const [{ figuresCsv }, { figuresJson }] = await Promise.all([
    import('./figures-csv.ts'),
    import('./figures.ts'),
  ]);
  terminal.out(
    command.format === 'csv' ? figuresCsv(wanted.computed) : figuresJson(wanted.computed, keys, variants),
  );
  return EXIT.done;
}

async function draft(
  slug: string,
  shop: string,
  terminal: Terminal,
  quiet: boolean,
  disk: Disk,
): Promise<number> {
  const { writeDraft } = await import('./draft.ts');
  const written = writeDraft(disk, shop, slug, programFolder());
  if (typeof written === 'string') return refuse(terminal, written);
  if (!quiet) {
    terminal.out(written.map((file) => `wrote ${file}\n`).join(''));
    terminal.out('"kerfleaf preview" shows it and each change you save.\n');
  }
  return EXIT.done;
}
