/** The command line, read: which command, on what, with which settings. */
import { parseArgs } from 'node:util';

/** A command with its settings. Folders are as typed; main makes them absolute. */
export type Command =
  | { readonly name: 'publish'; readonly plans: readonly string[]; readonly out?: string }
  | { readonly name: 'preview'; readonly port: number }
  | { readonly name: 'proof'; readonly plans: readonly string[]; readonly format: 'text' | 'json' }
  | {
      readonly name: 'figures';
      readonly plan: string;
      readonly edition?: string;
      readonly variant?: string;
      readonly format: 'json' | 'csv';
    }
  | { readonly name: 'draft'; readonly slug: string }
  | { readonly name: 'help'; readonly of?: CommandName }
  | { readonly name: 'version' };

export type CommandName = 'publish' | 'preview' | 'proof' | 'figures' | 'draft';

export const COMMANDS: readonly CommandName[] = ['publish', 'preview', 'proof', 'figures', 'draft'];

/** What was asked for, or a sentence on what is wrong with the question. */
export type Asked =
  | {
      readonly ok: true;
      readonly command: Command;
      readonly shop: string;
      readonly quiet: boolean;
    }
  | { readonly ok: false; readonly problem: string; readonly command?: CommandName };

const OPTIONS = {
  help: { type: 'boolean', short: 'h' },
  version: { type: 'boolean' },
  quiet: { type: 'boolean', short: 'q' },
  shop: { type: 'string' },
  out: { type: 'string' },
  port: { type: 'string' },
  format: { type: 'string' },
  edition: { type: 'string' },
  variant: { type: 'string' },
} as const;

type OptionName = keyof typeof OPTIONS;

/** The options each command takes besides `--help`, `--shop` and `--quiet`. */
const TAKES: Readonly<Record<CommandName, readonly OptionName[]>> = {
  publish: ['out'],
  preview: ['port'],
  proof: ['format'],
  figures: ['edition', 'variant', 'format'],
  draft: [],
};

const isCommand = (word: string): word is CommandName => (COMMANDS as readonly string[]).includes(word);

/** A folder name that is also a web address: the only form a plan's name may have. */
const SLUG = /^[a-z0-9]+(?:-[a-z0-9]+)*$/;

/** Reads the arguments after the program's name. */
export function readArguments(words: readonly string[]): Asked {
  let parsed: ReturnType<typeof parse>;
  try {
    parsed = parse(words);
  } catch (error) {
    return { ok: false, problem: plainReason(error) };
  }
  const { values, positionals } = parsed;
  const [first, ...rest] = positionals;
  const done = (command: Command): Asked => ({
    ok: true,
    command,
    shop: values.shop ?? '.',
    quiet: values.quiet === true,
  });

  if (values.version === true) return done({ name: 'version' });
  if (first === undefined)
    return values.help === true || words.length === 0
      ? done({ name: 'help' })
      : { ok: false, problem: 'a command is missing' };
  if (first === 'help') {
    const of = rest[0];
    return of !== undefined && isCommand(of) ? done({ name: 'help', of }) : done({ name: 'help' });
  }
  if (!isCommand(first)) {
    const meant = COMMANDS.find((one) => first.length >= 3 && one.startsWith(first.slice(0, 3)));
    const asked = meant === undefined ? '' : `; did you mean "kerfleaf ${meant}"?`;
    return { ok: false, problem: `there is no command "${first}"${asked}` };
  }
  if (values.help === true) return done({ name: 'help', of: first });

  const wrong = (problem: string): Asked => ({ ok: false, problem, command: first });
  const common: readonly OptionName[] = ['help', 'shop', 'quiet', ...TAKES[first]];
  const stray = (Object.keys(values) as OptionName[]).find((name) => !common.includes(name));
  if (stray !== undefined) return wrong(`"${first}" takes no option --${stray}`);

  switch (first) {
    case 'publish': {
      const plans = planNames(rest);
      if (typeof plans === 'string') return wrong(plans);
      return done({ name: 'publish', plans, ...(values.out === undefined ? {} : { out: values.out }) });
    }
    case 'preview': {
      if (rest.length > 0)
        return wrong(`"preview" shows the whole shop and takes no plan, found "${rest[0]}"`);
      const port = Number(values.port ?? '4310');
      if (!Number.isInteger(port) || port < 0 || port > 65_535)
        return wrong(`expected a port from 0 to 65535, found "${values.port}"`);
      return done({ name: 'preview', port });
    }
    case 'proof': {
      const plans = planNames(rest);
      if (typeof plans === 'string') return wrong(plans);
      const format = values.format ?? 'text';
      if (format !== 'text' && format !== 'json')
        return wrong(`expected --format text or json, found "${format}"`);
      return done({ name: 'proof', plans, format });
    }
    case 'figures': {
      const plans = planNames(rest);
      if (typeof plans === 'string') return wrong(plans);
      const plan = plans[0];
      if (plan === undefined || plans.length > 1)
        return wrong(`"figures" takes one plan, found ${plans.length}`);
      const format = values.format ?? 'json';
      if (format !== 'json' && format !== 'csv')
        return wrong(`expected --format json or csv, found "${format}"`);
      return done({
        name: 'figures',
        plan,
        format,
        ...(values.edition === undefined ? {} : { edition: values.edition }),
        ...(values.variant === undefined ? {} : { variant: values.variant }),
      });
    }
    case 'draft': {
      const slug = rest[0];
      if (slug === undefined || rest.length > 1) {
        const one = slugOf(rest);
        const asked = one === '' ? '' : `; for instance: kerfleaf draft ${one}`;
        return wrong(`"draft" takes one name for the plan, found ${rest.length}${asked}`);
      }
      if (!SLUG.test(slug) || slug.length > 60)
        return wrong(
          `expected a name of small letters, digits and hyphens such as "${slugOf([slug]) || 'tool-tote'}", found "${slug}"`,
        );
      return done({ name: 'draft', slug });
    }
  }
}

/** A name of the right form for a plan that was called by some words: `Wall Cabinet` gives wall-cabinet. Empty where none is left. */
const slugOf = (words: readonly string[]): string =>
  words
    .join('-')
    .replace(/([a-z])([A-Z])/g, '$1-$2')
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, '-')
    .replace(/^-+|-+$/g, '')
    .slice(0, 60);

const parse = (words: readonly string[]) =>
  parseArgs({ args: [...words], options: OPTIONS, allowPositionals: true, strict: true });

/** Names of plans: bare, or as the path a shell completes (`content/plans/nest-box/plan.md`). */
function planNames(words: readonly string[]): string[] | string {
  const names: string[] = [];
  for (const word of words) {
    const name = word
      .replaceAll('\\', '/')
      .replace(/\/(?:plan\.md)?$/, '')
      .replace(/^(?:\.\/)?content\/plans\//, '');
    if (!SLUG.test(name)) return `expected the name of a plan, found "${word}"`;
    if (!names.includes(name)) names.push(name);
  }
  return names;
}

/** The library's own message, cut to its first sentence and without its advice on quoting. */
function plainReason(error: unknown): string {
  const said = error instanceof Error ? error.message : String(error);
  const sentence = said.split(/\. |\n/)[0] ?? said;
  return sentence.charAt(0).toLowerCase() + sentence.slice(1).replaceAll("'", '"').replace(/\.$/, '');
}
