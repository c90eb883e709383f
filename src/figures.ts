/**
 * What `kerfleaf figures` prints: everything that was computed for a plan in one edition, for other programs to read.
 * The shape is described field by field in FIGURES.md beside this file and stays as it is under `kerfleaf-figures/1`:
 * fields may be added; none is renamed, removed or given another meaning without a new number.
 *
 * A length is `{ "mm": 88.9, "text": "3 1/2″" }`: exact millimetres and what the edition prints. Places (`bounds`, `frame`)
 * are plain arrays of millimetres: across from the left, deep from the front, up from the floor. Lists keep the order of the
 * plan. Where something doesn't apply, its field is left out.
 */
import { boardFigures, extraFigures } from './cutting/board-figures.ts';
import { sawSettings } from './cutting/saw-list.ts';
import { sheetFigures, useFigures } from './cutting/sheet-figures.ts';
import type { CutListRow, CuttingLayouts, ShoppingList } from './cutting/types.ts';
import type { Joinery } from './joinery/types.ts';
import type { Bounds, Copy, Frame, Part, Plan, Quantity, ShapeOperation } from './model/types.ts';
import type { FinishedPlan } from './publish/types.ts';
import type { HardwareItem, StockItem } from './read/types.ts';
import { lineText } from './text.ts';
import { mm, type NumberStyle, printed, sizeText } from './units.ts';

/** A plan with all that `figures` shows: a finished plan, but for its drawings. */
export type ComputedPlan = Omit<FinishedPlan, 'drawings'>;

/** Binary noise off (88.89999999999999): a millionth of a millimetre is far below anything that is cut. */
const clean = (value: number): number => {
  const rounded = Math.round(value * 1e6) / 1e6;
  return rounded === 0 ? 0 : rounded;
};

type Printer = (value: number) => { mm: number; text: string };

/** Prints lengths as exact millimetres and as the edition does. */
export const printer =
  (style: NumberStyle): Printer =>
  (value) => ({ mm: clean(value), text: sizeText(printed(value, style)) });

const vector = (values: readonly number[]): number[] => values.map(clean);

const bounds = (box: Bounds) => ({ min: vector(box.min), max: vector(box.max) });

const frame = (value: Frame) => ({
  origin: vector(value.origin),
  length: vector(value.length),
  width: vector(value.width),
  thickness: vector(value.thickness),
  mirrored: value.mirrored,
});

/** Leaves out what doesn't apply, so that a field is never null. */
const given = <K extends string, V>(key: K, value: V | undefined): { [P in K]?: V } =>
  value === undefined ? {} : ({ [key]: value } as { [P in K]?: V });

/** The figures of a computed plan as plain data, ready for JSON. `editions` are the keys of all that the shop has, `variants` those of the plan. */
export function figures(
  computed: ComputedPlan,
  editions: readonly string[],
  variants: readonly string[] = [],
) {
  const { plan, cutList, layouts, shopping, joinery, instructions } = computed;
  const length = printer(plan.edition.numbers);
  const { front, edition, stockList, variant } = plan;
  return {
    format: 'kerfleaf-figures/1',
    plan: {
      slug: plan.slug,
      ...given('variant', variant),
      file: plan.file,
      title: front.title,
      number: front.number,
      ...given('revision', front.revisions[0]?.revision),
      ...given('date', front.revisions[0]?.date),
    },
    edition: {
      key: edition.key,
      name: edition.name,
      numbers: { system: edition.numbers.system, denominator: edition.numbers.denominator },
      paper: edition.paper,
      projection: edition.projection,
      kerf: length(edition.kerf),
      stockList: stockList.key,
      region: stockList.region,
      currency: stockList.currency,
    },
    editions: [...editions],
    ...given('variants', variants.length === 0 ? undefined : [...variants]),
    units: { length: 'mm', angle: 'degree', area: 'mm²', volume: 'mm³' },
    outline: {
      width: length(plan.outline.width),
      depth: length(plan.outline.depth),
      height: length(plan.outline.height),
    },
    sizes: plan.sizes.map(({ name, quantity }) => ({ name, ...quantityFigures(quantity, length) })),
    parts: plan.parts.map((part) => partFigures(part, cutList.letters, length)),
    cutList: {
      rows: cutList.rows.map((row) => rowFigures(row, length)),
      volume: { value: clean(cutList.volume.value), unit: cutList.volume.unit },
      ...given('weight', cutList.weight === undefined ? undefined : clean(cutList.weight)),
    },
    layouts: layoutFigures(layouts, length),
    shopping: shoppingFigures(shopping),
    joints: jointFigures(joinery, length),
    fasteners: joinery.fasteners.map(({ item, kind, count }) => ({
      item: item.key,
      name: item.name,
      kind,
      count,
    })),
    hardware: plan.hardware.map(({ item, count, on, spots = [] }) => ({
      item: item.key,
      name: item.name,
      count,
      ...given('on', on),
      ...given(
        'places',
        item.outline &&
          spots.map(({ copy, at, face, along }) => ({
            copy,
            at: vector(at),
            out: vector(face),
            along: vector(along),
          })),
      ),
    })),
    tools: [...instructions.tools],
    steps: instructions.steps.map((step) => ({
      index: step.index,
      title: step.title,
      adds: planStep(plan, step.index)?.adds ?? [],
      ...given('assembly', planStep(plan, step.index)?.assembly),
      sets: [...step.sets],
      parts: step.parts.map(({ letter, name, quantity }) => ({ letter, name, quantity })),
      fasteners: step.fasteners.map(({ item, kind, count }) => ({ item: item.key, kind, count })),
      hardware: step.hardware.map(({ item, count }) => ({ item: item.key, count })),
      tools: [...step.tools],
    })),
    roundings: plan.roundings.map(({ origin, written, exact, rounded }) => ({
      file: origin.file,
      line: origin.line,
      column: origin.column,
      written,
      exact: clean(exact),
      rounded: clean(rounded),
    })),
  };
}

/** The shape of the JSON, as a type. */
export type Figures = ReturnType<typeof figures>;

/** The JSON text, ending with a line break. */
export const figuresJson = (
  computed: ComputedPlan,
  editions: readonly string[],
  variants: readonly string[] = [],
): string => `${JSON.stringify(figures(computed, editions, variants), null, 2)}\n`;

const planStep = (plan: Plan, index: number) => plan.steps.find((step) => step.index === index);

function quantityFigures({ kind, value }: Quantity, length: Printer) {
  return kind === 'length' ? { kind, ...length(value) } : { kind, value: clean(value) };
}

const stockFigures = (stock: StockItem, length: Printer) => ({
  key: stock.key,
  label: stock.label,
  profile: stock.profile,
  thickness: length(stock.thickness),
  width: length(stock.width),
  cover: length(stock.cover),
});

function partFigures(part: Part, letters: Readonly<Record<string, string>>, length: Printer) {
  const { courses } = part;
  return {
    key: part.key,
    name: part.name,
    stock: stockFigures(part.stock, length),
    species: part.species,
    runs: part.runs,
    wideFace: part.wideFace,
    ...given('assembly', part.assembly),
    ...given('fit', part.fit),
    ...given('banded', part.banded),
    ...given(
      'housed',
      part.housed?.map((end) => ({ ...end, depth: length(mm(end.depth)) })),
    ),
    ...given(
      'panel',
      part.panel && {
        boards: part.panel.boards,
        widths: part.panel.widths.map(length),
        allowance: length(part.panel.allowance),
      },
    ),
    ...given(
      'courses',
      courses && {
        count: courses.count,
        ends: courses.ends,
        gap: length(courses.gap),
        full: length(courses.full),
        first: length(courses.first),
        last: length(courses.last),
      },
    ),
    copies: part.copies.map((copy) => copyFigures(copy, letters[copy.id], length)),
  };
}

const copyFigures = (copy: Copy, letter: string | undefined, length: Printer) => ({
  id: copy.id,
  ...given('letter', letter),
  ...given('course', copy.course),
  bounds: bounds(copy.bounds),
  frame: frame(copy.frame),
  size: blank(copy.size, length),
  cut: blank(copy.cut, length),
  ...given('rip', copy.rip && { width: length(copy.rip.width), reason: copy.rip.reason }),
  ...given('shape', copy.shape.length === 0 ? undefined : copy.shape.map(shapeFigures)),
});

/** An operation as it is: millimetres and degrees in the board's own frame, its place in the plan left out. */
const shapeFigures = ({ origin: _, ...operation }: ShapeOperation): unknown =>
  JSON.parse(
    JSON.stringify(operation, (__, value: unknown) => (typeof value === 'number' ? clean(value) : value)),
  );

const blank = (size: Copy['size'], length: Printer) => ({
  thickness: length(size.thickness),
  width: length(size.width),
  length: length(size.length),
});

const rowFigures = (row: CutListRow, length: Printer) => ({
  letter: row.letter,
  part: row.part,
  name: row.name,
  quantity: row.quantity,
  thickness: length(row.thickness),
  width: length(row.width),
  length: length(row.length),
  stock: row.stock.key,
  species: row.species,
  ...given('rip', row.rip && { width: length(row.rip.width), reason: row.rip.reason }),
  ...given('fit', row.fit),
  ...given('fromOffcut', row.fromOffcut),
  copies: [...row.copies],
  notes: row.notes.map(lineText),
  ...given(
    'saw',
    row.saw?.map(({ face, cut, mitre, tilt }) => ({ face, cut, mitre: clean(mitre), tilt: clean(tilt) })),
  ),
  ...given('mirrored', row.mirrored),
  ...given(
    'panel',
    row.panel && {
      boards: row.panel.boards,
      width: length(row.panel.width),
      length: length(row.panel.length),
    },
  ),
});

function layoutFigures(layouts: CuttingLayouts, length: Printer) {
  return {
    kerf: length(layouts.kerf),
    boards: layouts.boards.map((board) => boardFigures(board, length)),
    ...given(
      'extra',
      layouts.extra?.map((extra) => extraFigures(extra, length)),
    ),
    ...given(
      'sheets',
      layouts.sheets?.map((sheet) => sheetFigures(sheet, length)),
    ),
    ...useFigures(layouts, length),
    proofs: layouts.proofs.map(({ stock, species, status, gap, cost, bound, levels }) => ({
      stock,
      species,
      status,
      gap: clean(gap),
      cost: clean(cost),
      bound: clean(bound),
      ...given('levels', levels),
    })),
    saw: sawSettings(layouts).map(({ pass, kind, stock, species, setting, against, cuts, pieces }) => ({
      pass,
      kind,
      stock: stock.key,
      species,
      setting: length(setting),
      ...given('against', against),
      cuts,
      pieces: pieces.map(({ letter, quantity }) => ({ letter, quantity })),
    })),
    stops: layouts.stops.map((stop) => ({
      length: length(stop.length),
      pieces: stop.pieces.map(({ letter, quantity, stock }) => ({ letter, quantity, stock })),
    })),
  };
}

const itemKey = (item: HardwareItem | StockItem | undefined): string | undefined => item?.key;

const shoppingFigures = (shopping: ShoppingList) => ({
  region: shopping.region,
  currency: shopping.currency,
  rows: shopping.rows.map((row) => ({
    kind: row.kind,
    name: row.name,
    ...given('stock', itemKey(row.stock)),
    ...given('species', row.species),
    ...given('item', itemKey(row.item)),
    size: lineText(row.size),
    unit: row.unit,
    quantity: row.quantity,
    needed: row.needed,
    ...given('extra', row.extra),
    ...given('each', row.each),
    ...given('cost', row.cost === undefined ? undefined : clean(row.cost)),
  })),
  lumberCost: clean(shopping.lumberCost),
  hardwareCost: clean(shopping.hardwareCost),
  total: clean(shopping.total),
  partial: shopping.partial,
});

function jointFigures(joinery: Joinery, length: Printer) {
  const stepOf = new Map(
    [...joinery.bySteps].flatMap(([step, places]) => places.map((place) => [place, step] as const)),
  );
  return joinery.places.map((place) => ({
    join: place.joint.join,
    to: place.joint.to,
    by: place.joint.by,
    first: place.contact.first,
    second: place.contact.second,
    ...given('from', place.joint.from),
    contact: {
      ...bounds(place.contact.bounds),
      normal: vector(place.contact.normal),
      area: clean(place.contact.area),
    },
    count: place.count,
    ...given(
      'points',
      place.points?.map(({ at, axis }) => ({ at: vector(at), axis: vector(axis) })),
    ),
    ...given(
      'fastener',
      place.fastener && {
        item: place.fastener.key,
        name: place.fastener.name,
        ...given('length', place.fastener.length === undefined ? undefined : length(place.fastener.length)),
      },
    ),
    ...given('step', stepOf.get(place)),
  }));
}
