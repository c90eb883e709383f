/** Tables as text for a spreadsheet. Source: RFC 4180 (lines end in CR LF; a field with a comma, quote or line break is quoted). */

/** A table as CSV. A field that a spreadsheet would take for a formula keeps its words and loses its power. */
export function csv(rows: readonly (readonly (string | number)[])[]): string {
  return rows.map((row) => `${row.map(field).join(',')}\r\n`).join('');
}

function field(value: string | number): string {
  if (typeof value === 'number') return `${value}`;
  // Names are the author's; `=1+1` must open as text. An apostrophe before it is the habit of spreadsheets for that.
  const text = /^[=+\-@\t\r]/.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
