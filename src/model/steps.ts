/** Steps: what each adds and which assemblies it builds or sets. Every part arrives in exactly one step. */
import type { Origin } from '../diagnostics.ts';
import { fault } from '../diagnostics.ts';
import { quoted } from '../read/node.ts';
import type { StepSource, Written } from '../read/types.ts';
import { nameHint } from '../resolve/names.ts';
import type { Names } from './joints.ts';
import type { Step } from './types.ts';

/** The steps in order, with every fault of what they add reported. */
export function stepsOf(names: Names): readonly Step[] {
  const { source, report } = names;
  if (source.steps.length === 0) {
    if (source.parts.length > 0)
      report(
        fault('step.none', source.parts[0]?.origin ?? source.frontOrigin, {
          expected: 'a "## Steps" section whose steps add the parts',
          found: 'no step',
          hint: 'under "## Steps" write a heading "### …" and a block ```step with adds: [names of parts]',
        }),
      );
    return [];
  }
  const book = new Book(names);
  const steps = source.steps.map((step) => book.step(step));
  book.close();
  return steps;
}

const at = ({ index, title }: StepSource): string => `step ${index}, ${quoted(title)}`;

/** Keeps track of what has been added and built while the steps are read in order. */
class Book {
  private readonly names: Names;
  private readonly partKeys: readonly string[];
  /** Assembly by part, as the part says. */
  private readonly belongs: ReadonlyMap<string, string>;
  private readonly assemblies: readonly string[];
  private readonly added = new Map<string, StepSource>();
  private readonly built = new Map<string, StepSource>();
  private readonly set = new Map<string, StepSource>();
  /** Assemblies that parts name and no step builds. */
  private readonly unbuilt = new Set<string>();
  /** Of these the ones that a step sets in: their parts are not missed one by one. */
  private readonly missing = new Set<string>();

  constructor(names: Names) {
    this.names = names;
    const { parts, steps } = names.source;
    this.partKeys = parts.map((part) => part.key);
    this.belongs = new Map(
      parts.flatMap((part) => (part.assembly ? [[part.key, part.assembly.text.trim()] as const] : [])),
    );
    this.assemblies = steps.flatMap((step) => (step.assembly ? [step.assembly.text.trim()] : []));
    const known = new Set(this.assemblies);
    // Said once: where a step sets in what none builds, it is said there.
    const named = new Set(steps.flatMap(({ adds }) => adds.map((written) => written.text.trim())));
    for (const { assembly } of parts)
      if (assembly && !known.has(assembly.text.trim())) {
        this.unbuilt.add(assembly.text.trim());
        known.add(assembly.text.trim());
        if (named.has(assembly.text.trim())) continue;
        this.wrong(
          'assembly.unbuilt',
          assembly.origin,
          'an assembly that a step builds',
          quoted(assembly.text),
          {
            hint:
              nameHint(assembly.text.trim(), this.assemblies).hint ??
              `write assembly: ${assembly.text.trim()} in the step that builds it`,
          },
        );
      }
  }

  private wrong(
    id: string,
    origin: Origin,
    expected: string,
    found: string,
    more: { hint?: string } = {},
  ): void {
    this.names.report(fault(id, origin, { expected, found, ...more }));
  }

  step(source: StepSource): Step {
    const assembly = source.assembly?.text.trim();
    if (assembly !== undefined) this.build(source, source.assembly as Written, assembly);
    const adds: string[] = [];
    const sets: string[] = [];
    for (const written of source.adds) {
      const name = written.text.trim();
      if (this.partKeys.includes(name)) {
        if (this.add(source, written, name, assembly)) adds.push(name);
      } else if (this.assemblies.includes(name)) {
        if (this.setIn(source, written, name)) sets.push(name);
      } else if (this.unbuilt.has(name)) {
        if (!this.missing.has(name)) this.wantsBuilding(written, name);
        this.missing.add(name);
      } else {
        const known = [...this.partKeys, ...this.assemblies];
        const { hint } = nameHint(name, known);
        this.wrong(
          'name.unknown',
          written.origin,
          'the name of a part or of an assembly built before',
          quoted(written.text),
          {
            ...(hint === undefined ? {} : { hint }),
          },
        );
      }
    }
    return {
      index: source.index,
      title: source.title,
      origin: source.origin,
      adds,
      sets,
      ...(assembly === undefined ? {} : { assembly }),
      ...(source.from === undefined ? {} : { from: source.from.value }),
      tools: source.tools,
      prose: source.prose,
    };
  }

  /** A step sets in an assembly that none builds: the step that is missing. */
  private wantsBuilding(written: Written, name: string): void {
    const own = this.partKeys.filter((key) => this.belongs.get(key) === name && !this.added.has(key));
    this.wrong('assembly.unbuilt', written.origin, `a step before this one that builds "${name}"`, 'none', {
      hint: `give a step before it a block with\nadds: [${own.join(', ')}]\nassembly: ${name}`,
    });
  }

  private build(source: StepSource, written: Written, assembly: string): void {
    const set = this.set.get(assembly);
    if (this.partKeys.includes(assembly))
      this.wrong('assembly.name', written.origin, 'a name that no part has', quoted(assembly), {
        hint: `for example ${assembly} frame`,
      });
    else if (set && this.built.has(assembly))
      this.wrong(
        'assembly.order',
        written.origin,
        `"${assembly}" built before it is set in`,
        `it was set in by ${at(set)}`,
      );
    if (!this.built.has(assembly)) this.built.set(assembly, source);
  }

  private add(source: StepSource, written: Written, key: string, assembly: string | undefined): boolean {
    const before = this.added.get(key);
    if (before) {
      this.wrong(
        'step.part-twice',
        written.origin,
        `each part in one step`,
        before === source ? `"${key}" twice in this step` : `"${key}", which ${at(before)} adds already`,
        { hint: 'all copies of a part arrive together; where they do not, make two parts of it' },
      );
      return false;
    }
    this.added.set(key, source);
    const belongs = this.belongs.get(key);
    // An assembly that no step builds was reported where the part names it.
    if (belongs !== undefined && belongs !== assembly && this.assemblies.includes(belongs))
      this.wrong(
        'assembly.part',
        written.origin,
        `"${key}" in the step that builds "${belongs}"`,
        at(source),
        {
          hint: `write assembly: ${belongs} in this step, or leave it out at the part`,
        },
      );
    return true;
  }

  private setIn(source: StepSource, written: Written, name: string): boolean {
    const before = this.set.get(name);
    const built = this.built.get(name);
    const problem = before
      ? `it was set in by ${at(before)}`
      : !built
        ? 'no step builds it before this one'
        : built === source
          ? 'this step builds it'
          : undefined;
    if (problem) {
      this.wrong(
        'assembly.order',
        written.origin,
        `"${name}" built in an earlier step and set in once`,
        problem,
      );
      if (before) return false;
    }
    this.set.set(name, source);
    return problem === undefined;
  }

  /** What should have come by the end of the last step. */
  close(): void {
    const { source } = this.names;
    for (const part of source.parts)
      if (!this.added.has(part.key) && !this.missing.has(this.belongs.get(part.key) ?? ''))
        this.names.report(
          fault('step.part-missing', part.origin, {
            expected: `a step that adds "${part.key}"`,
            found: 'none',
            hint: `write ${part.key} in the adds: of the step where it arrives`,
            parts: [part.key],
          }),
        );
    for (const [name, step] of this.built)
      if (!this.set.has(name) && !this.partKeys.includes(name))
        this.wrong(
          'assembly.unset',
          step.assembly?.origin ?? step.blockOrigin,
          `a later step that sets in "${name}"`,
          'none',
          {
            hint: `write adds: [${name}] in a later step`,
          },
        );
  }
}
