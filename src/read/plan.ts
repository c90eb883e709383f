/** A plan file: front matter, blocks, prose and steps, checked for form. */
import type { Root } from 'mdast';
import { toString as textOfNode } from 'mdast-util-to-string';
import { type Diagnostic, fault, type Origin, type Outcome, sortDiagnostics } from '../diagnostics.ts';
import { parseMarkdown } from '../markdown.ts';
import { tooMuchProse } from './bounds.ts';
import { check } from './check.ts';
import { type Excerpt, excerptOf, plainText } from './excerpt.ts';
import { type Fence, findFences } from './fences.ts';
import { readFront } from './front.ts';
import { readJoints, readUses } from './lists.ts';
import type { Names } from './names.ts';
import { entryOf, type Node, textOf, textsOf, writtenOf } from './node.ts';
import { readParts, readSizes } from './parts.ts';
import { readProse, type StepText } from './prose.ts';
import * as schemas from './schemas/blocks.ts';
import { viewpointOf } from './schemas/words.ts';
import type {
  HardwareSource,
  JointSource,
  PartSource,
  PlanSource,
  SizeSource,
  StepSource,
  VariantSource,
} from './types.ts';
import { readVariants } from './variants.ts';
import { readYaml } from './yaml.ts';

/**
 * Reads one plan. `file` is its path in the shop folder; `files` are the names of the files beside it, by which photos are checked.
 * The plan is left out where its sizes, parts or steps have faults, since a later phase would only echo them; faults elsewhere
 * leave a plan that can be checked further. All faults are in the diagnostics.
 */
export function readPlan(
  slug: string,
  file: string,
  text: string,
  files?: ReadonlySet<string>,
): Outcome<PlanSource | undefined> {
  const source = plainText(text);
  const lines = source.split('\n');
  const tooMuch = tooMuchProse(file, lines);
  if (tooMuch.length > 0) return { value: undefined, diagnostics: tooMuch };
  const tree = parseMarkdown(source);
  const front = frontExcerpt(tree, file, source);
  const frontOrigin: Origin = { file, line: 1, column: 1 };
  const diagnostics: Diagnostic[] = [];
  if ('problem' in front) diagnostics.push(front.problem);
  const frontYaml = readYaml('excerpt' in front ? front.excerpt : excerptOf(file, ''));
  const frontRead = readFront(
    frontYaml.node,
    frontOrigin,
    'excerpt' in front ? frontYaml.broken : ['*'],
    files && ((name) => files.has(name)),
  );
  diagnostics.push(...frontYaml.diagnostics);
  if ('excerpt' in front) diagnostics.push(...frontRead.diagnostics);

  const found = findFences(tree, file, lines);
  const blocks = readBlocks(found.fences, frontOrigin, found.diagnostics.length === 0);
  const prose = readProse(tree, found.fences, file, lines);
  const steps = prose.steps.map((step, i) => readStep(step, i + 1));
  // A block that isn't closed swallows the headings after it.
  const isOpen = found.diagnostics.some((item) => item.id === 'block.open');
  // Faults that leave a hole in what later phases build on.
  const holes = [
    ...found.diagnostics,
    ...blocks.holes,
    ...prose.diagnostics.filter(
      (item) => !item.id.startsWith('prose.') && !(isOpen && item.id === 'steps.missing'),
    ),
    ...steps.flatMap((step) => step.diagnostics),
  ];
  const all = [...diagnostics, ...blocks.diagnostics, ...holes];
  all.push(...prose.diagnostics.filter((item) => item.id.startsWith('prose.')));
  const said = sortDiagnostics(all);
  if (holes.length > 0 || blocks.outline === undefined) return { value: undefined, diagnostics: said };
  const value: PlanSource = {
    slug,
    file,
    front: frontRead.value,
    frontOrigin,
    outline: blocks.outline,
    sizes: blocks.sizes,
    variants: blocks.variants,
    parts: blocks.parts,
    joints: blocks.joints,
    hardware: blocks.hardware,
    opening: prose.opening,
    sections: prose.sections,
    stepsOpening: prose.stepsOpening,
    steps: steps.flatMap((step) => step.step ?? []),
    tree,
  };
  return { value, diagnostics: said };
}

const FRONT_HINT = '---\ntitle: Potting bench\n---';

/** The front matter's YAML; or why there is none. */
function frontExcerpt(
  tree: Root,
  file: string,
  source: string,
): { readonly excerpt: Excerpt } | { readonly problem: Diagnostic } {
  const [first] = tree.children;
  if (first?.type === 'yaml')
    return { excerpt: excerptOf(file, first.value, (first.position?.start.line ?? 1) + 1) };
  const origin = { file, line: 1, column: 1 };
  const opened = /^---[ \t]*(?:\n|$)/u.test(source);
  return {
    problem: fault(opened ? 'front.open' : 'front.missing', origin, {
      expected: opened
        ? 'a line of three hyphens that closes the front matter'
        : 'front matter between two lines of three hyphens, at the very start of the file',
      found: 'none',
      hint: opened ? '---' : FRONT_HINT,
    }),
  };
}

interface Blocks {
  readonly outline?: PlanSource['outline'];
  readonly sizes: readonly SizeSource[];
  readonly variants: readonly VariantSource[];
  readonly parts: readonly PartSource[];
  readonly joints: readonly JointSource[];
  readonly hardware: readonly HardwareSource[];
  /** Faults in sizes, variants and parts. */
  readonly holes: readonly Diagnostic[];
  /** Faults in joints and hardware. */
  readonly diagnostics: readonly Diagnostic[];
}

/** All blocks but the steps; several of a kind add up. What is missing is only said where all blocks were found: `complete`. */
function readBlocks(fences: readonly Fence[], frontOrigin: Origin, complete: boolean): Blocks {
  const names: Names = new Map();
  const sizes: SizeSource[] = [];
  const parts: PartSource[] = [];
  const joints: JointSource[] = [];
  const hardware: HardwareSource[] = [];
  const holes: Diagnostic[] = [];
  const diagnostics: Diagnostic[] = [];
  let outline: PlanSource['outline'] | undefined;
  let outlineLine: number | undefined;
  let varied: { readonly fence: Fence; readonly node: Node } | undefined;
  for (const fence of fences) {
    if (fence.kind === 'step') continue;
    const yaml = readYaml(fence.excerpt);
    const { node } = yaml;
    const structural = fence.kind === 'sizes' || fence.kind === 'variants' || fence.kind === 'parts';
    (structural ? holes : diagnostics).push(...yaml.diagnostics);
    if (node.kind === 'empty') {
      if (fence.kind === 'sizes' && yaml.broken.length > 0) outlineLine ??= 0;
      continue;
    }
    if (fence.kind === 'sizes') {
      const read = readSizes(node, names);
      holes.push(...read.diagnostics);
      sizes.push(...read.sizes);
      if (node.kind !== 'map' || yaml.broken.some((key) => key === 'outline' || key === '*'))
        outlineLine ??= 0;
      if (read.outlineKey) {
        const { origin } = read.outlineKey.key;
        if (outlineLine !== undefined && outlineLine > 0)
          holes.push(
            fault('sizes.outline-twice', origin, {
              expected: 'one outline',
              found: `a second one; the first is in line ${outlineLine}`,
              hint: 'Leave one of them out.',
            }),
          );
        outlineLine = outlineLine || origin.line;
        outline ??= read.outline;
      }
    } else if (fence.kind === 'variants') {
      // Their names of sizes can be judged when all blocks are read, wherever they stand.
      if (varied === undefined) varied = { fence, node };
      else
        holes.push(
          fault('variants.twice', fence.origin, {
            expected: 'one "variants" block',
            found: `a second one; the first is in line ${varied.fence.origin.line}`,
            hint: 'Put all variants into one block.',
          }),
        );
    } else if (fence.kind === 'parts') {
      const read = readParts(node, names);
      holes.push(...read.diagnostics);
      parts.push(...read.parts);
    } else if (fence.kind === 'joints') {
      const read = readJoints(node);
      diagnostics.push(...read.diagnostics);
      joints.push(...read.items);
    } else {
      const read = readUses(node);
      diagnostics.push(...read.diagnostics);
      hardware.push(...read.items);
    }
  }
  let variants: readonly VariantSource[] = [];
  if (varied !== undefined) {
    const known = holes.length === 0 ? sizes.map(({ name }) => name) : undefined;
    const read = readVariants(varied.node, known);
    holes.push(...read.diagnostics);
    variants = read.variants;
  }
  const first = (kind: Fence['kind']) => fences.find((fence) => fence.kind === kind);
  if (outlineLine === undefined && complete)
    holes.push(
      fault('sizes.outline-missing', first('sizes')?.origin ?? frontOrigin, {
        expected: 'a "sizes" block with the outline of the piece: width, depth and height',
        found: first('sizes') === undefined ? 'no "sizes" block' : 'no outline in it',
        hint: 'outline: { width: 48 in | 1200 mm, depth: 22 in | 560 mm, height: 36 in | 900 mm }',
      }),
    );
  if (first('parts') === undefined && complete)
    holes.push(
      fault('parts.missing', frontOrigin, {
        expected: 'a "parts" block with the parts of the piece',
        found: 'none',
        hint: '```parts\nleg:\n  stock: 2x4\n  runs: up\n```',
      }),
    );
  return {
    sizes,
    variants,
    parts,
    joints,
    hardware,
    holes,
    diagnostics,
    ...(outline === undefined ? {} : { outline }),
  };
}

/** The last heading of a step's prose between two lines: one of the fourth level or below, which was meant to begin a step. */
function headingBetween(
  { prose }: StepText,
  from: number,
  to: number,
): { readonly title: string; readonly level: number } | undefined {
  const found = prose.findLast((node) => {
    const line = node.position?.start.line ?? 0;
    return node.type === 'heading' && line > from && line < to;
  });
  return found?.type === 'heading' ? { title: textOfNode(found).trim(), level: found.depth } : undefined;
}

/** A step with its block; exactly one is due. */
function readStep(
  text: StepText,
  index: number,
): { readonly step?: StepSource; readonly diagnostics: readonly Diagnostic[] } {
  const [fence, second] = text.fences;
  if (fence === undefined)
    return {
      diagnostics: [
        fault('step.missing', text.origin, {
          expected: `a "step" block under the heading "${text.title}" that says what joins the work`,
          found: 'none',
          hint: '```step\nadds: [leg]\n```',
        }),
      ],
    };
  const yaml = readYaml(fence.excerpt);
  const { node } = yaml;
  const diagnostics = [...yaml.diagnostics];
  const owner = { called: `the step "${text.title}"`, origin: fence.origin };
  diagnostics.push(
    ...(yaml.broken.includes('*') ? [] : check(node, schemas.step, 'step', owner, yaml.broken)),
  );
  if (second) {
    const deeper = headingBetween(text, fence.origin.line, second.origin.line);
    diagnostics.push(
      fault('step.twice', second.origin, {
        expected: 'one "step" block in each step',
        found: deeper
          ? `a second one, under a heading of level ${deeper.level}, which begins no step`
          : `a second one; the first is in line ${fence.origin.line}`,
        hint: deeper
          ? `### ${deeper.title}`
          : 'Give it a heading of its own, or put its parts into the first.',
      }),
    );
  }
  if (diagnostics.length > 0) return { diagnostics };
  const assembly = writtenOf(node, 'assembly');
  const from = entryOf(node, 'from')?.value;
  const view = viewpointOf(textOf(node, 'from') ?? '');
  return {
    diagnostics,
    step: {
      index,
      title: text.title,
      origin: text.origin,
      blockOrigin: fence.origin,
      adds: textsOf(node, 'adds'),
      ...(assembly === undefined ? {} : { assembly }),
      ...(from && view ? { from: { value: view, origin: from.origin } } : {}),
      tools: textsOf(node, 'tools').map((tool) => tool.text),
      prose: text.prose,
    },
  };
}
