// Makes what runs: src/bin.ts and all it imports go to build/ as plain modules; npm packages stay outside.
// A split bundle, so that a command loads only what it needs. Also writes the types of the library entry, and the JSON Schemas for editors
// to schema/.
// Run by `npm run build`, and by npm itself after `npm ci` (the `prepare` script).
import { createHash } from 'node:crypto';
import { chmodSync, existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { cuttingTypes } from './types.mjs';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const out = join(root, 'build');

let esbuild;
try {
  esbuild = await import('esbuild');
} catch {
  // Installed without the tools for developers (`npm ci --omit=dev`): a build that is there is left as it is.
  if (existsSync(join(out, 'main.js'))) process.exit(0);
  console.error('kerfleaf: esbuild is missing, so nothing can be built. Run "npm ci" without --omit=dev.');
  process.exit(1);
}

rmSync(out, { recursive: true, force: true });
await esbuild.build({
  absWorkingDir: root,
  entryPoints: { main: 'src/bin.ts', schemas: 'src/schemas.ts', thread: 'src/thread.ts', cutting: 'src/cutting/index.ts' },
  outdir: out,
  bundle: true,
  splitting: true,
  format: 'esm',
  platform: 'node',
  target: 'node20.19',
  packages: 'external',
  sourcemap: 'linked',
  logLevel: 'warning',
});
chmodSync(join(out, 'main.js'), 0o755);
writeFileSync(join(out, 'cutting.d.ts'), cuttingTypes());

// What was cached by another build isn't used again: the stamp is part of every cache key.
const hash = createHash('sha256').update(readFileSync(join(root, 'package.json')));
if (existsSync(join(root, 'package-lock.json'))) hash.update(readFileSync(join(root, 'package-lock.json')));
for (const name of readdirSync(out).sort())
  if (name.endsWith('.js')) hash.update(name).update(readFileSync(join(out, name)));
writeFileSync(join(out, 'stamp.txt'), `${hash.digest('hex')}\n`);

const { schemas } = await import(pathToFileURL(join(out, 'schemas.js')).href);
const folder = join(root, 'schema');
rmSync(folder, { recursive: true, force: true });
mkdirSync(folder);
for (const [name, schema] of Object.entries(schemas()))
  writeFileSync(join(folder, `${name}.schema.json`), `${JSON.stringify(schema, null, 2)}\n`);
