/** The text of `--help`. Lines stay under 80 characters, for a plain terminal. */
import type { CommandName } from './args.ts';

const CODES = `Exit codes
  0  done
  1  faults in the plans or in the shop's files; nothing was written
  2  the command was used wrongly, or the disk refused
  3  a bug of Kerfleaf's own; please report it with the lines it prints`;

const COMMON = `  --shop DIR      the shop's folder, the one that has content/ (default: here)
  -q, --quiet     only say what is wrong
  -h, --help      this text`;

const TEXTS: Readonly<Record<CommandName, string>> = {
  publish: `kerfleaf publish [plan…] [--out DIR] [--shop DIR] [--quiet]

Checks the plans and writes the site, both PDFs of each plan and the packages
for buyers. Everything is written beside the last site and swapped in at the
end: if there is a fault, the last site stays as it was.

  plan…           names of plans, as their folders in content/plans/ are called;
                  all plans where none is named. Only these come into the site
                  that is written, so give it a folder of its own with --out.
  --out DIR       where to write (default: dist/ in the shop's folder). The
                  folder may only hold what an earlier run wrote there.
${COMMON}

${CODES}`,
  preview: `kerfleaf preview [--port N] [--shop DIR] [--quiet]

Shows the shop in a browser, on this machine only, and shows each change as
soon as a file is saved. A fault in a plan is shown in the page, with its place
and what to type instead. Nothing is written. Stop it with Ctrl-C.

  --port N        port to serve on (default: 4310; 0 takes any free one)
${COMMON}

${CODES}`,
  proof: `kerfleaf proof [plan…] [--format text|json] [--shop DIR] [--quiet]

Checks the plans as an experienced builder would before printing, and lists
every finding with its file, line and column: errors (nothing can be published),
warnings, cautions that are printed for the buyer, and notes such as roundings.

  plan…           names of plans; all plans where none is named
  --format        text (default) or json
${COMMON}
                  With --quiet, notes are left out.

${CODES}`,
  figures: `kerfleaf figures <plan> [--edition KEY] [--variant KEY] [--format json|csv]
                 [--shop DIR]

Prints what was computed for a plan: sizes, parts with their places, cut list,
board layouts, stop-block settings, shopping list, joints and steps. Other
programs may read this: the shape is described in the guide and stays stable.

  plan            name of a plan
  --edition KEY   imperial, metric or one of the shop's own (default: the
                  shop's first one)
  --variant KEY   a variant of the plan, where it has some (default: its
                  first one)
  --format        json (default): everything. csv: the cut list
${COMMON}

${CODES}`,
  draft: `kerfleaf draft <name> [--shop DIR] [--quiet]

Starts a plan: writes content/plans/<name>/plan.md, a small crate that publishes
as it is, for you to change. In a folder without content/ it also writes a
shop file, stock lists and hardware to start from. It never writes over a file.

  name            small letters, digits and hyphens: tool-tote
${COMMON}

${CODES}`,
};

const OVERVIEW = `kerfleaf <command> [options]

Publishes furniture plans. A plan is one Markdown file with blocks for its
parts; from it come cut lists, board layouts, drawings, a page and two PDFs.

  publish   write the site, the PDFs and the packages for buyers
  preview   show the shop in a browser and each change as it is saved
  proof     check the plans and list what is found
  figures   print what was computed for a plan, for other programs
  draft     start a new plan

  kerfleaf <command> --help    more on a command
  kerfleaf --version           the version

${CODES}`;

/** Help for one command, or the overview. */
export const helpText = (command?: CommandName): string =>
  command === undefined ? OVERVIEW : TEXTS[command];
