/** The report: findings as text or JSON, and the line that sums them up. */
import { type Diagnostic, diagnosticText, type Severity } from '../diagnostics.ts';

const WORDS: readonly (readonly [Severity, string, string])[] = [
  ['error', 'error', 'errors'],
  ['warning', 'warning', 'warnings'],
  ['caution', 'caution', 'cautions'],
  ['note', 'note', 'notes'],
];

/** `2 errors, 1 note`; `nothing to report` for an empty list. */
export function countText(list: readonly Diagnostic[]): string {
  const counts = WORDS.flatMap(([severity, one, more]) => {
    const count = list.filter((item) => item.severity === severity).length;
    return count === 0 ? [] : [`${count} ${count === 1 ? one : more}`];
  });
  return counts.length === 0 ? 'nothing to report' : counts.join(', ');
}

/** Findings as lines of text, each as `file:line:column: …`, with an empty line at no place: editors jump to them. */
export const reportText = (list: readonly Diagnostic[]): string =>
  list.map((item) => `${diagnosticText(item)}\n`).join('');

/**
 * Findings for other programs. Shape: `format` is `kerfleaf-proof/1`; `findings` holds objects with `id`, `severity`, `file`,
 * `line`, `column`, `message`, and where they apply `hint`, `edition`, `variant`, `parts`, `source`.
 */
export function reportJson(list: readonly Diagnostic[]): string {
  const findings = list.map(({ origin, id, severity, message, hint, edition, variant, parts, source }) => ({
    id,
    severity,
    file: origin.file,
    line: origin.line,
    column: origin.column,
    message,
    hint,
    edition,
    variant,
    parts,
    source,
  }));
  return `${JSON.stringify({ format: 'kerfleaf-proof/1', findings }, null, 2)}\n`;
}
