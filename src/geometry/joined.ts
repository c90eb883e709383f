/** Things that hang together, directly or through others: faces over edges, corners over triangles. */

/** Sets that grow together. Things are numbers from 0. */
export interface JoinedSets {
  /** The thing that stands for all that hang together with this one. */
  readonly find: (thing: number) => number;
  /** Joins the sets of two things; the first's stands for both. */
  readonly join: (first: number, second: number) => void;
}

/** So many things, each on its own at first. */
export function joinedSets(count: number): JoinedSets {
  const head = Array.from({ length: count }, (_, thing) => thing);
  const find = (thing: number): number => {
    let at = thing;
    while (head[at] !== at) {
      head[at] = head[head[at] as number] as number;
      at = head[at] as number;
    }
    return at;
  };
  const join = (first: number, second: number): void => {
    head[find(second)] = find(first);
  };
  return { find, join };
}
