/**
 * Writing what was published: everything goes to a folder beside the last one, which is swapped in at the end. Whatever fails
 * or breaks off in between, the last site is whole: in its place, or for the instant between two renames beside it, from
 * where the next run puts it back.
 */
import type { Disk } from '../disk.ts';
import type { OutputFile } from '../publish/types.ts';

/** All that a run writes into its folder; anything else in there is somebody's, and the folder is left alone. */
const OURS = ['site', 'packages', 'listing'];

/** What is wrong with an output folder, or nothing. Folders are absolute paths. */
export function outputProblem(disk: Disk, out: string, shop: string): string | undefined {
  const inside = (folder: string, outer: string) =>
    folder === outer || folder.startsWith(`${outer.replace(/[\\/]$/, '')}/`);
  const plain = (folder: string) => folder.replaceAll('\\', '/');
  if (inside(plain(shop), plain(out)))
    return `the output folder ${out} holds the shop itself; give a folder of its own with --out`;
  if (inside(plain(out), `${plain(shop)}/content`))
    return `the output folder ${out} lies in content/; give a folder outside it with --out`;
  if (disk.exists(out) && !disk.isFolder(out)) return `the output folder ${out} is a file`;
  const stray = disk.names(out).find((name) => !OURS.includes(name));
  if (stray !== undefined)
    return `the output folder ${out} holds "${stray}", which no run of kerfleaf wrote; empty it or give another with --out`;
  return undefined;
}

/** Puts the last site back if a run broke off between its two renames, and clears what broken runs left behind. */
export function recover(disk: Disk, out: string): void {
  const last = `${out}.last`;
  if (disk.exists(last)) {
    if (disk.exists(out)) disk.remove(last);
    else disk.rename(last, out);
  }
  const slash = Math.max(out.lastIndexOf('/'), out.lastIndexOf('\\'));
  const folder = out.slice(0, Math.max(slash, 1));
  const name = out.slice(slash + 1);
  for (const leftover of disk.names(folder))
    if (leftover.startsWith(`${name}.next-`)) disk.remove(`${folder}/${leftover}`);
}

/**
 * Writes the files and swaps them in as `out`. `mark` tells this run's folder from another's. Throws what the disk throws;
 * the last site is then in place again, unless the disk refuses even that, and then the next run sees to it.
 */
export function swapIn(disk: Disk, out: string, files: readonly OutputFile[], mark: string): void {
  recover(disk, out);
  const next = `${out}.next-${mark}`;
  const last = `${out}.last`;
  try {
    for (const file of files) disk.write(`${next}/${file.path}`, file.content);
    // Another run that started meanwhile has cleared this one's folder as a leftover: half a site is never swapped in.
    if (disk.files(next).length !== files.length)
      throw new Error(`another run wrote to ${out} at the same time; run publish again`);
    const before = disk.exists(out);
    if (before) disk.rename(out, last);
    try {
      disk.rename(next, out);
    } catch (error) {
      if (before) disk.rename(last, out);
      throw error;
    }
  } catch (error) {
    attempt(() => disk.remove(next));
    throw error;
  }
  // The new site is in place: if its predecessor can't be removed now, the next run removes it.
  attempt(() => disk.remove(last));
}

function attempt(operation: () => void): void {
  try {
    operation();
  } catch {
    // Cleaning up after another fault, which is the one to report.
  }
}
