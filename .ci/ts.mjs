// Runs a TypeScript file of this repository on any supported Node: node .ci/ts.mjs tests/bench/run.ts [arguments]
// It is bundled to .kerfleaf/, one folder below the root like src/ and build/, so that paths relative to a module agree.
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const [, , entry, ...words] = process.argv;
if (entry === undefined) {
  console.error('usage: node .ci/ts.mjs <file.ts> [arguments]');
  process.exit(2);
}
const name = entry.replace(/\.ts$/, '').replaceAll(/[^a-z0-9]+/gi, '-');
const made = join(root, '.kerfleaf', `${name}.mjs`);
await build({
  absWorkingDir: root,
  entryPoints: [resolve(root, entry)],
  outfile: made,
  bundle: true,
  format: 'esm',
  platform: 'node',
  target: 'node20.19',
  packages: 'external',
  sourcemap: 'inline',
  logLevel: 'warning',
});
process.argv = [process.argv[0], resolve(root, entry), ...words];
await import(pathToFileURL(made).href);
