/**
 * What the program has to say about a plan: faults, warnings, cautions and notes, each with its place in a file.
 */

/** A place in a source file. Lines and columns count from 1; columns count characters. */
export interface Origin {
  /** Path relative to the shop's folder, with forward slashes. */
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

/**
 * error: the plan is wrong and nothing is published. warning: likely a mistake. caution: printed for the buyer.
 * note: good to know, such as a rounding.
 */
export type Severity = 'error' | 'warning' | 'caution' | 'note';

export interface Diagnostic {
  /** Stable name of the rule, our own: `length.unit`, `name.unknown`, `step.part-missing`. */
  readonly id: string;
  readonly severity: Severity;
  readonly origin: Origin;
  /** One sentence in the author's own unit: "expected a length, found "48 inn"". */
  readonly message: string;
  /** Text to type, or what to do. */
  readonly hint?: string;
  /** Edition the finding belongs to, where it doesn't hold for all. */
  readonly edition?: string;
  /** Variant of the plan that it belongs to, where it doesn't hold for all. */
  readonly variant?: string;
  /** Keys of the parts concerned. */
  readonly parts?: readonly string[];
  /** The published source of the rule, or 'common practice, no source'. */
  readonly source?: string;
}

/** What a phase hands on: its value, and what it had to say. */
export interface Outcome<T> {
  readonly value: T;
  readonly diagnostics: readonly Diagnostic[];
}

/** A fault in the author's text: what was expected, what was found, and what to type instead. */
export function fault(
  id: string,
  origin: Origin,
  said: { expected: string; found: string; hint?: string; parts?: readonly string[]; edition?: string },
): Diagnostic {
  return {
    id,
    severity: 'error',
    origin,
    message: `expected ${said.expected}, found ${said.found}`,
    ...(said.hint === undefined ? {} : { hint: said.hint }),
    ...(said.parts === undefined ? {} : { parts: said.parts }),
    ...(said.edition === undefined ? {} : { edition: said.edition }),
  };
}

const ORDER: Record<Severity, number> = { error: 0, warning: 1, caution: 2, note: 3 };

/** By file, place, severity and name: the order in which a report is read. */
export function sortDiagnostics(list: readonly Diagnostic[]): Diagnostic[] {
  return [...list].sort(
    (a, b) =>
      compareText(a.origin.file, b.origin.file) ||
      a.origin.line - b.origin.line ||
      a.origin.column - b.origin.column ||
      ORDER[a.severity] - ORDER[b.severity] ||
      compareText(a.id, b.id) ||
      compareText(a.message, b.message),
  );
}

const compareText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

/**
 * The same finding said for several editions, or for several variants of a plan, is said once, without them. `variants` tells
 * how many a plan's file has.
 */
export function mergeEditions(
  list: readonly Diagnostic[],
  editions: number,
  variants: (file: string) => number = () => 1,
): Diagnostic[] {
  const perEdition = merged(list, 'variant', ({ origin }) => variants(origin.file));
  return merged(perEdition, 'edition', () => editions);
}

/** Findings that are the same but for one field, told once where all its values have them. */
function merged(
  list: readonly Diagnostic[],
  field: 'edition' | 'variant',
  wanted: (item: Diagnostic) => number,
): Diagnostic[] {
  const other = field === 'edition' ? 'variant' : 'edition';
  const groups = new Map<string, Diagnostic[]>();
  for (const item of list) {
    const key = JSON.stringify([item.id, item.severity, item.origin, item.message, item[other]]);
    const group = groups.get(key);
    if (group) group.push(item);
    else groups.set(key, [item]);
  }
  return [...groups.values()].flatMap((group) => {
    const seen = new Map(group.map((item) => [item[field] ?? '', item]));
    const first = group[0] as Diagnostic;
    const count = wanted(first);
    if (seen.has('') || seen.size < count || count < 2) return [...seen.values()];
    const { [field]: _, ...rest } = first;
    return [rest];
  });
}

/** For which edition and variant a finding holds: ` (metric edition, long)`; nothing where for all. */
export function holdsFor({ edition, variant }: Diagnostic): string {
  const said = [edition === undefined ? '' : `${edition} edition`, variant ?? ''].filter(Boolean);
  return said.length === 0 ? '' : ` (${said.join(', ')})`;
}

/** One finding as text: `file:line:column: error: … [id]`, then the hint on a line of its own. */
export function diagnosticText(item: Diagnostic): string {
  const { file, line, column } = item.origin;
  const first = `${file}:${line}:${column}: ${item.severity}: ${item.message}${holdsFor(item)} [${item.id}]`;
  return item.hint === undefined ? first : `${first}\n    ${item.hint.replaceAll('\n', '\n    ')}`;
}

/** True where nothing may be published. */
export const hasErrors = (list: readonly Diagnostic[]): boolean =>
  list.some((item) => item.severity === 'error');
