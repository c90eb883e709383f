/** The known word that a misspelt one most likely means. */

/** Edits between two words: letters put in, left out, changed, or two neighbours swapped. */
export function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i += 1) {
    const row = [i];
    for (let j = 1; j <= b.length; j += 1) {
      const change = (last[j - 1] as number) + (a[i - 1] === b[j - 1] ? 0 : 1);
      let best = Math.min(change, (last[j] as number) + 1, (row[j - 1] as number) + 1);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        best = Math.min(best, (before[j - 2] as number) + 1);
      row.push(best);
    }
    before = last;
    last = row;
  }
  return last[b.length] as number;
}

/** What builders say for a word of the plan language; taken where that word is among the known ones and no spelling is near. */
const SAID: Readonly<Record<string, string>> = {
  rear: 'back',
  behind: 'back',
  base: 'bottom',
  underside: 'bottom',
  lower: 'bottom',
  upper: 'top',
  above: 'top',
  horizontal: 'across',
  width: 'across',
  sideways: 'across',
  depth: 'deep',
  'front to back': 'deep',
  vertical: 'up',
  upright: 'up',
  height: 'up',
  mirror: 'mirrored',
  equal: 'shared',
  both: 'shared',
  dado: 'housing',
  groove: 'housing',
  'pocket holes': 'pocket screws',
  pocket: 'pocket screws',
  brads: 'nails',
  pins: 'nails',
  material: 'stock',
  wood: 'species',
  direction: 'runs',
  position: 'at',
  copy: 'copies',
  mirrored: 'copies',
  repeated: 'copies',
  place: 'at',
  grain: 'runs',
  quantity: 'count',
  qty: 'count',
};

/**
 * The nearest of the known words, at most a third of its letters different, and one always may be; else the one that a builder's word
 * means; undefined where there is none.
 */
export function nearest(word: string, known: Iterable<string>): string | undefined {
  if (word.length > 60) return undefined;
  const asked = word.toLowerCase().replaceAll('_', ' ');
  let best: string | undefined;
  let least = Number.POSITIVE_INFINITY;
  const words = [...known];
  for (const candidate of words) {
    const distance = editDistance(asked, candidate.toLowerCase());
    const allowed = Math.max(1, Math.floor(Math.max(asked.length, candidate.length) / 3));
    if (distance <= allowed && distance < least) {
      best = candidate;
      least = distance;
    }
  }
  if (best !== undefined) return best;
  const said = Object.hasOwn(SAID, asked) ? SAID[asked] : undefined;
  if (said !== undefined && words.includes(said)) return said;
  // a word cut short, where one known word alone begins so: thick for thickness
  const begun = asked.length < 4 ? [] : words.filter((one) => one.toLowerCase().startsWith(asked));
  return begun.length === 1 ? begun[0] : undefined;
}
