/** Faces of a part that run into each other: a curve in facets, and the planes that it runs into. */
import { joinedSets } from '../../geometry/joined.ts';
import type { PlacedPart } from '../../geometry/types.ts';

const known = new WeakMap<PlacedPart['edges'], readonly (number | undefined)[] | null>();

/** For each face the number of its group, nothing for one that stands alone; nothing at all for a part without curves. */
export function smoothGroups(part: PlacedPart): readonly (number | undefined)[] | undefined {
  const had = known.get(part.edges);
  if (had !== undefined) return had ?? undefined;
  const found = part.edges.some((edge) => edge.smooth) ? groups(part) : undefined;
  known.set(part.edges, found ?? null);
  return found;
}

function groups(part: PlacedPart): (number | undefined)[] {
  const { find, join } = joinedSets(part.faces.length);
  for (const { left, right, smooth } of part.edges) if (smooth) join(left, right);
  const size = new Map<number, number>();
  for (const face of part.faces.keys()) size.set(find(face), (size.get(find(face)) ?? 0) + 1);
  return part.faces.map((_, face) => (size.get(find(face)) === 1 ? undefined : find(face)));
}
