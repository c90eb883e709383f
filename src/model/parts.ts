/** Parts with all their copies and courses, placed and shaped. */
import type { Diagnostic } from '../diagnostics.ts';
import type { Direction } from '../read/types.ts';
import { axisOf } from '../resolve/pose-axes.ts';
import type { CopyRule, Course, ResolvedPart, ResolvedPlan, Span } from '../resolve/types.ts';
import { dot } from '../resolve/vectors.ts';
import type { Length } from '../units.ts';
import { mm } from '../units.ts';
import { type Board, boardsShaped, type ShapedBoard } from './boards.ts';
import { bodyFaces } from './body.ts';
import { frameOf, mirrored, moved, type Stand, standOf, standOfPose, stripOf } from './frames.ts';
import type { FlatPoint } from './shape.ts';
import { cutOff } from './shape-outline.ts';
import type { Copy, Part } from './types.ts';

/** The parts of a plan in the file's order. What is wrong with their shapes is reported. */
export function partsOf(plan: ResolvedPlan, report: (diagnostic: Diagnostic) => void): readonly Part[] {
  return plan.parts.map((part) => partOf(part, plan, report));
}

type Outline = ResolvedPlan['outline'];

/** `top-board` as a name in print: `Top board`. */
function printedName(key: string): string {
  const words = key.replaceAll(/[-_]+/gu, ' ').trim();
  return words.charAt(0).toUpperCase() + words.slice(1);
}

function partOf(part: ResolvedPart, plan: ResolvedPlan, report: (diagnostic: Diagnostic) => void): Part {
  const { source, courses, panel } = part;
  const { outline } = plan;
  const first = boardsShaped(part, boardsOf(part), plan.edition.numbers, report).map((board) => ({
    board,
    stand: board.board.pose
      ? standOfPose(board.board.pose)
      : standOf(board.board.spans, part.runs, part.wideFace),
  }));
  const stands = part.copies.reduce((groups, rule) => copied(groups, rule, outline), [
    first,
  ] as readonly (readonly Placed[])[]);
  const copies = stands.flat().map((placed, index) => copyOf(part, placed, index + 1));
  const cover = (course: Course | undefined): Length => course?.cover ?? mm(0);
  return {
    key: source.key,
    name: source.name ?? printedName(source.key),
    origin: source.origin,
    stock: part.stock,
    species: part.species,
    runs: part.runs,
    wideFace: part.wideFace,
    copies,
    ...(source.assembly === undefined ? {} : { assembly: source.assembly.text.trim() }),
    ...(source.fit === undefined ? {} : { fit: source.fit }),
    ...(source.turn ? { turn: source.turn } : {}),
    ...(source.fromOffcut ? { fromOffcut: source.fromOffcut } : {}),
    ...(source.template === undefined ? {} : { template: source.template }),
    ...(source.banded ? { banded: source.banded.map(({ value }) => value) } : {}),
    visible: source.visible ?? [],
    ...(source.note === undefined ? {} : { note: source.note }),
    ...(panel
      ? { panel: { boards: panel.boards, widths: panel.widths.map(mm), allowance: mm(panel.allowance) } }
      : {}),
    ...(courses
      ? {
          courses: {
            count: courses.list.length,
            gap: courses.gap,
            full: courses.full,
            first: cover(courses.list[0]),
            last: cover(courses.list.at(-1)),
            ends: courses.ends,
          },
        }
      : {}),
  };
}

interface Placed {
  readonly board: ShapedBoard;
  readonly stand: Stand;
}

function boardsOf(part: ResolvedPart): readonly Board[] {
  const { courses, spans, pose } = part;
  if (!courses) return [{ spans, ...(pose ? { pose } : {}) }];
  const { along, reversed } = courses;
  const whole = spans[along];
  return courses.list.map((course, index) => {
    if (pose) {
      // counted along the slope, from the start of the courses; the board's own width may go the other way
      const backwards = dot(pose.width, axisOf(along)) < 0;
      const far = pose.size.width - course.offset - course.cover;
      const strip = stripOf(pose, reversed !== backwards ? far : course.offset, course.cover);
      return { spans, number: index + 1, course, pose: strip };
    }
    const low = reversed ? whole.high - course.offset - course.cover : whole.low + course.offset;
    const span: Span = { low, high: low + course.cover };
    const own = { ...spans, [along]: span };
    return { spans: { ...own, [part.runs]: lengthWithin(part, own, along) }, number: index + 1, course };
  });
}

/** How far a course reaches along its length: less than the others where an outline of straight lines round them all, as of a gable, ends before. */
function lengthWithin(part: ResolvedPart, spans: Board['spans'], along: Direction): Span {
  const { runs, shape } = part;
  let { low, high } = spans[runs];
  for (const { source, path = [] } of shape) {
    if (source.kind !== 'outline' || source.path?.some((step) => step.kind === 'arc')) continue;
    const points = path.flatMap(({ to }): FlatPoint[] => {
      const [x, y] = [to[runs], to[along]];
      return x === undefined || y === undefined ? [] : [[x, y]];
    });
    const within = cutOff(cutOff(points, 1, spans[along].low, -1), 1, spans[along].high, 1);
    if (points.length < path.length || within.length < 3) continue;
    low = Math.max(low, Math.min(...within.map(([x]) => x)));
    high = Math.min(high, Math.max(...within.map(([x]) => x)));
  }
  return high - low > 1 ? { low, high } : spans[runs];
}

/** Applies a rule to all groups of boards so far: the old groups first, then each copy of them. */
function copied(
  groups: readonly (readonly Placed[])[],
  rule: CopyRule,
  outline: Outline,
): readonly (readonly Placed[])[] {
  const change = (to: (stand: Stand) => Stand) =>
    groups.map((group) => group.map(({ board, stand }) => ({ board, stand: to(stand) })));
  if (rule.kind === 'mirrored') {
    const size = { 'left-right': outline.width, 'front-back': outline.depth, 'bottom-top': outline.height }[
      rule.across
    ];
    return [...groups, ...change((stand) => mirrored(stand, rule.across, size))];
  }
  return Array.from({ length: rule.count }, (_, index) =>
    index === 0 ? groups : change((stand) => moved(stand, rule.along, index * rule.step)),
  ).flat();
}

function copyOf(part: ResolvedPart, { board: shaped, stand }: Placed, number: number): Copy {
  const { source } = part;
  const { board, size, operations } = shaped;
  const cutWidth = board.course?.cut ?? part.cutWidth;
  const reason = board.course ? board.course.rip : part.ripped ? 'part' : undefined;
  const frame = frameOf(stand, size.width);
  const body = bodyFaces(shaped, frame, part.pose !== undefined);
  return {
    id: `${source.key}.${number}`,
    part: source.key,
    frame,
    size,
    bounds: body?.bounds ?? stand.bounds,
    cut: { thickness: size.thickness, width: cutWidth, length: size.length },
    ...(reason === undefined ? {} : { rip: { width: cutWidth, reason } }),
    ...(board.number === undefined ? {} : { course: board.number }),
    shape: operations,
    ...(body ? { faces: body.faces } : {}),
  };
}
