/** The prose of a plan, parted by its headings: opening, sections, and the steps. */
import type { Heading, Root, RootContent } from 'mdast';
import { toString as textOfNode } from 'mdast-util-to-string';
import { visit } from 'unist-util-visit';
import { type Diagnostic, fault, type Origin } from '../diagnostics.ts';
import { type Fence, placeOf } from './fences.ts';
import { nearest } from './nearest.ts';
import { quoted } from './node.ts';
import type { SectionSource } from './types.ts';

/** A step as its heading and what stands under it; its blocks are still to be read. */
export interface StepText {
  readonly title: string;
  readonly origin: Origin;
  readonly prose: readonly RootContent[];
  readonly fences: readonly Fence[];
}

export interface ProseReading {
  readonly opening: readonly RootContent[];
  readonly sections: readonly SectionSource[];
  readonly stepsOpening: readonly RootContent[];
  readonly steps: readonly StepText[];
  readonly hasSteps: boolean;
  readonly diagnostics: readonly Diagnostic[];
}

/** Parts the children of a plan's tree. `fences` are the blocks found in it; they leave the prose. */
export function readProse(
  tree: Root,
  fences: readonly Fence[],
  file: string,
  lines: readonly string[],
): ProseReading {
  const blocks = new Map(fences.map((fence) => [fence.node as RootContent, fence]));
  const diagnostics = htmlFaults(tree, file, lines);
  const strays: Diagnostic[] = [];
  const opening: RootContent[] = [];
  const sections: { title: string; prose: RootContent[]; origin: Origin }[] = [];
  const stepsOpening: RootContent[] = [];
  const steps: { title: string; origin: Origin; prose: RootContent[]; fences: Fence[] }[] = [];
  let place: 'opening' | 'section' | 'steps' = 'opening';
  let stepsLine: number | undefined;
  for (const node of tree.children) {
    if (node.type === 'yaml') continue;
    const fence = blocks.get(node);
    if (fence) {
      if (fence.kind !== 'step') continue;
      const step = place === 'steps' ? steps.at(-1) : undefined;
      if (step) step.fences.push(fence);
      else strays.push(strayStep(fence));
      continue;
    }
    if (node.type === 'heading' && node.depth < 3) {
      const title = textOfNode(node).trim();
      const origin = placeOf(node, file, lines);
      if (node.depth === 1) diagnostics.push(titleFault(node, title, origin));
      else if (title.toLowerCase() === 'steps') {
        if (stepsLine !== undefined) diagnostics.push(twiceSteps(origin, stepsLine));
        stepsLine ??= origin.line;
        place = 'steps';
      } else {
        place = 'section';
        sections.push({ title, prose: [], origin });
      }
      continue;
    }
    if (place === 'steps' && node.type === 'heading' && node.depth === 3) {
      const origin = placeOf(node, file, lines);
      const title = textOfNode(node).trim();
      if (title === '') diagnostics.push(emptyHeading(origin));
      steps.push({ title, origin, prose: [], fences: [] });
      continue;
    }
    if (place === 'opening') opening.push(node);
    else if (place === 'section') sections.at(-1)?.prose.push(node);
    else (steps.at(-1)?.prose ?? stepsOpening).push(node);
  }
  // Without the heading every step block is out of place; once is enough.
  if (stepsLine === undefined) diagnostics.push(noSteps(sections, file, lines));
  else diagnostics.push(...strays);
  return { opening, sections, stepsOpening, steps, hasSteps: stepsLine !== undefined, diagnostics };
}

const strayStep = (fence: Fence): Diagnostic =>
  fault('step.place', fence.origin, {
    expected: 'a step block under a heading of the third level under "## Steps"',
    found: 'a step block elsewhere',
    hint: '### Build the end frames',
  });

const titleFault = (node: Heading, title: string, origin: Origin): Diagnostic =>
  fault('prose.heading', origin, {
    expected: 'headings from the second level on, since the title stands in the front matter',
    found: `a heading of level ${node.depth}: ${quoted(title)}`,
    hint: `## ${title}`,
  });

const twiceSteps = (origin: Origin, line: number): Diagnostic =>
  fault('steps.twice', origin, {
    expected: 'one heading "## Steps"',
    found: `a second one; the first is in line ${line}`,
    hint: 'Put all steps under the first.',
  });

const emptyHeading = (origin: Origin): Diagnostic =>
  fault('step.title', origin, {
    expected: 'what is done in the step',
    found: 'a heading without words',
    hint: '### Build the end frames',
  });

function noSteps(sections: readonly SectionSource[], file: string, lines: readonly string[]): Diagnostic {
  const near = sections.find((section) => nearest(section.title, ['Steps']) !== undefined);
  return fault('steps.missing', near?.origin ?? { file, line: Math.max(1, lines.length), column: 1 }, {
    expected: 'a heading "## Steps" with the steps under it',
    found: near === undefined ? 'none' : quoted(near.title),
    hint: '## Steps',
  });
}

/** HTML is no part of the language: it can't be printed. Comments are left out and do no harm. */
function htmlFaults(tree: Root, file: string, lines: readonly string[]): Diagnostic[] {
  const said: Diagnostic[] = [];
  visit(tree, 'html', (node) => {
    // A comment does no harm; a closing tag says nothing that its opening one didn't.
    if (/^\s*(?:(?:<!--[\s\S]*?-->\s*)+|<\/[^>]*>\s*)$/u.test(node.value)) return;
    said.push(
      fault('prose.html', placeOf(node, file, lines), {
        expected: 'words and Markdown, since HTML cannot be printed',
        found: quoted(node.value),
        hint: 'Write a backslash before a "<" that is meant as a sign: \\<',
      }),
    );
  });
  return said;
}
