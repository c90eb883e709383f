// Types of the library entry `kerfleaf/cutting` as one file that needs no other: the declarations that its exports reach, rolled up
// from what the TypeScript compiler emits. Run by build.mjs; `node .ci/types.mjs` prints them.
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const ENTRY = 'src/cutting/index.ts';

/** The text of `build/cutting.d.ts`. */
export function cuttingTypes() {
  const require = createRequire(import.meta.url);
  const compiler = join(dirname(require.resolve('typescript/package.json')), 'bin/tsc');
  const out = mkdtempSync(join(tmpdir(), 'kerfleaf-types-'));
  try {
    execFileSync(
      process.execPath,
      [
        compiler,
        ...'--ignoreConfig --declaration --emitDeclarationOnly --rootDir src --target es2023 --module nodenext'.split(' '),
        ...'--lib es2023 --types node --strict --allowImportingTsExtensions --verbatimModuleSyntax --skipLibCheck'.split(' '),
        '--outDir',
        out,
        ENTRY,
      ],
      { cwd: root, stdio: ['ignore', 'inherit', 'inherit'] },
    );
    return rolledUp(out);
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
}

/** The exports of the entry and what they name, in the order of the files; its own head comes first. */
function rolledUp(folder) {
  const declared = new Map();
  for (const path of readdirSync(folder, { recursive: true }).map(String).sort())
    if (path.endsWith('.d.ts') && path.replaceAll('\\', '/') !== 'cutting/index.d.ts')
      for (const [name, text] of declarations(readFileSync(join(folder, path), 'utf8')))
        declared.set(name, [...(declared.get(name) ?? []), text]);
  const index = readFileSync(join(folder, 'cutting/index.d.ts'), 'utf8');
  const exported = [...index.matchAll(/^export (?:type )?\{([^}]*)\}/gm)].flatMap((match) =>
    match[1].split(',').flatMap((name) => /[A-Za-z]\w*$/.exec(name.trim())?.[0] ?? []),
  );
  const wanted = new Set(exported);
  // A set grows while it is gone through: what a declaration names is asked for in turn.
  for (const name of wanted) {
    const texts = declared.get(name) ?? [];
    if (texts.length !== 1) throw new Error(`${name} is declared ${texts.length} times, expected once`);
    for (const [word] of withoutComments(texts[0]).matchAll(/\b[A-Za-z_]\w*\b/g))
      if (/^[A-Z]/.test(word) && declared.has(word)) wanted.add(word);
  }
  const head = /^\/\*\*[\s\S]*?\*\//.exec(index)?.[0] ?? '';
  const body = [...declared].filter(([name]) => wanted.has(name)).map(([, [text]]) => text);
  const inner = [...wanted].filter((name) => !exported.includes(name));
  const hidden = body.map((text) =>
    inner.some((name) => new RegExp(`^export (?:declare )?(?:interface|type) ${name}\\b`, 'm').test(text))
      ? text.replace(/^export /m, '')
      : text,
  );
  // An empty export keeps what isn't exported out of reach.
  return `${[head, ...hidden, 'export {};'].join('\n\n')}\n`;
}

/** Exported declarations of a file with the comment before each. */
function declarations(text) {
  const start = /^export (?:declare )?(?:interface|type|function|const|class) (\w+)/gm;
  return [...text.matchAll(start)].map((match) => {
    const before = text.slice(0, match.index);
    const comment = /\/\*\*(?:(?!\*\/)[\s\S])*\*\/\s*$/.exec(before)?.[0] ?? '';
    return [match[1], `${comment}${text.slice(match.index, endOf(text, match.index))}`.trim()];
  });
}

/** Where a declaration ends: at the semicolon or brace that closes it. */
function endOf(text, from) {
  const isBlock = /^export (?:declare )?(?:interface|class)/.test(text.slice(from));
  let depth = 0;
  for (let at = from; at < text.length; at++) {
    const letter = text[at];
    if (text.startsWith('/*', at)) at = text.indexOf('*/', at) + 1;
    else if ('{(['.includes(letter)) depth++;
    else if ('})]'.includes(letter)) depth--;
    if (depth === 0 && (isBlock ? letter === '}' : letter === ';')) return at + 1;
  }
  return text.length;
}

const withoutComments = (text) => text.replace(/\/\*[\s\S]*?\*\//g, '');

if (process.argv[1] === fileURLToPath(import.meta.url)) process.stdout.write(cuttingTypes());
