/** What `kerfleaf figures --format csv` prints: the cut list as a table. */
import { type ComputedPlan, printer } from './figures.ts';
import { csv } from './publish/words/csv.ts';
import { lineText } from './text.ts';

const CSV_HEAD = [
  'letter',
  'part',
  'name',
  'quantity',
  'thickness',
  'width',
  'length',
  'thickness mm',
  'width mm',
  'length mm',
  'stock',
  'species',
  'rip',
  'fit',
  'notes',
];

/**
 * The cut list as CSV (RFC 4180; UTF-8 without a mark), a header line first.
 * Sizes stand twice, as the edition prints them and as millimetres.
 */
export function figuresCsv(computed: ComputedPlan): string {
  const length = printer(computed.plan.edition.numbers);
  const rows = computed.cutList.rows.map((row) => {
    const sizes = [row.thickness, row.width, row.length].map(length);
    return [
      row.letter,
      row.part,
      row.name,
      row.quantity,
      ...sizes.map((size) => size.text),
      ...sizes.map((size) => size.mm),
      row.stock.key,
      row.species,
      row.rip?.reason ?? '',
      row.fit ?? '',
      row.notes.map(lineText).join('; '),
    ];
  });
  return csv([CSV_HEAD, ...rows]);
}
