/** All formulas of a plan as they are written, wherever they stand. */
import type { PathStepSource, PlaceSource } from '../read/shape-types.ts';
import type { PartSource, PlanSource, Written } from '../read/types.ts';

/** Every formula of a plan, in the file's order of blocks. */
export function writtenFormulas(source: PlanSource): readonly Written[] {
  const { width, depth, height } = source.outline;
  return [
    width,
    depth,
    height,
    ...source.sizes.map((size) => size.formula),
    ...source.parts.flatMap((part) => [
      ...Object.values(part.at),
      ...[part.length, part.rip, part.lay?.from, part.lay?.to, part.lay?.gap],
      ...shapeFormulas(part),
      ...part.copies.flatMap((rule) => (rule.kind === 'repeated' ? [rule.count, rule.spacing, rule.to] : [])),
    ]),
    ...source.joints.flatMap((joint) => [
      joint.count,
      joint.setBack,
      joint.leastSpacing,
      joint.depth,
      ...Object.values(joint.stopped?.values ?? {}),
    ]),
    ...source.hardware.flatMap((item) => [item.count, item.setBack, ...Object.values(item.at?.values ?? {})]),
  ].filter((written) => written !== undefined);
}

/** All formulas of a part that say how it is shaped, leans, is braced or glued up. */
function shapeFormulas(part: PartSource): readonly Written[] {
  const inPlace = (place: PlaceSource | undefined): Written[] =>
    Object.values(place?.values ?? {}).filter((one) => one !== undefined);
  const inStep = (step: PathStepSource): Written[] => [
    ...inPlace(step.to),
    ...inPlace(step.through),
    ...(step.radius ? [step.radius] : []),
  ];
  return [
    ...Object.values(part.lean?.angles ?? {}).filter((one) => one !== undefined),
    ...inPlace(part.brace?.from),
    ...inPlace(part.brace?.to),
    ...(part.glueUp?.allowance ? [part.glueUp.allowance] : []),
    ...(part.shape ?? []).flatMap((shape) => [
      ...Object.values(shape.values),
      ...Object.values(shape.places).flatMap(inPlace),
      ...(shape.path ?? []).flatMap(inStep),
    ]),
  ];
}
