/**
 * The types that `kerfleaf/cutting` ships, as another program sees them: the package's own `exports` are looked up by the project's
 * compiler, in a folder of its own, with no other types at hand.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { beforeAll, describe, expect, it } from 'vitest';
import { temporaryFolder } from '../support/run.ts';

const root = fileURLToPath(new URL('../../', import.meta.url));
const compiler = join(dirname(createRequire(import.meta.url).resolve('typescript/package.json')), 'bin/tsc');
let types = '';

beforeAll(() => {
  types = execFileSync(process.execPath, [join(root, '.ci/types.mjs')], { encoding: 'utf8' });
}, 60_000);

/** What the compiler says of a program that uses the package; nothing where it is content. */
function compiled(program: string): string {
  const folder = temporaryFolder();
  const installed = join(folder, 'node_modules/kerfleaf');
  mkdirSync(join(installed, 'build'), { recursive: true });
  writeFileSync(join(installed, 'package.json'), readFileSync(join(root, 'package.json')));
  writeFileSync(join(installed, 'build/cutting.d.ts'), types);
  writeFileSync(join(folder, 'package.json'), '{ "type": "module" }');
  writeFileSync(join(folder, 'consumer.ts'), program);
  const options =
    '--ignoreConfig --noEmit --strict --exactOptionalPropertyTypes --target es2023 --lib es2023 --module nodenext';
  try {
    return execFileSync(process.execPath, [compiler, ...options.split(' '), 'consumer.ts'], {
      cwd: folder,
      encoding: 'utf8',
    });
  } catch (error) {
    return String((error as { stdout?: unknown }).stdout);
  }
}

const BOARDS = `import { checkBoards, layoutBoards, loadSolver, type BoardJob } from 'kerfleaf/cutting';
const job: BoardJob = {
  items: [{ id: 'leg', length: 35.25, width: 1.5, quantity: 4 }],
  stocks: [{ id: '8 ft', length: 96, width: 3.5, price: 5.98, limit: 2 }],
  kerf: 0.125,
  endTrim: 0,
  resolution: 1 / 64,
};
const result = layoutBoards(job, await loadSolver());
const cost: number = result.cost;
const wrong: string[] = checkBoards(job, result);
const first: number | undefined = result.patterns[0]?.sections[0]?.strips[0]?.offset;
export { cost, first, wrong };
`;

describe('the types of kerfleaf/cutting', () => {
  it('let a program in TypeScript compile against boards', () => {
    expect(compiled(BOARDS)).toBe('');
  });

  it('let a program in TypeScript compile against sheets', () => {
    expect(
      compiled(`import { boardFeet, checkSheets, layoutSheets, loadSolver, sheetCuts, type SheetJob, type SheetPiece } from 'kerfleaf/cutting';
const job: SheetJob = {
  items: [{ id: 'side', length: 762, width: 300, quantity: 2, turnable: false }],
  stocks: [{ id: 'whole', length: 2440, width: 1220, price: 62 }],
  kerf: 3,
  edgeTrim: 0,
};
const result = layoutSheets(job, await loadSolver());
const count = (piece: SheetPiece): number =>
  piece.kind === 'split' ? piece.pieces.reduce((sum, one) => sum + count(one), 0) : piece.kind === 'part' ? 1 : 0;
const cuts = result.patterns.flatMap((pattern) => sheetCuts(job, pattern));
const kinds: ('trim' | 'rip' | 'crosscut')[] = cuts.map(({ kind }) => kind);
const status: 'proved best' | 'gap' | 'impossible' = result.status;
export { count, kinds, status };
export const wrong: string[] = checkSheets(job, result);
export const feet: number = boardFeet(1, 4, 8);
`),
    ).toBe('');
  });

  it('refuse what the solver would refuse, and keep what is inside to themselves', () => {
    expect(compiled(BOARDS.replace('  kerf: 0.125,\n', ''))).toMatch(
      /consumer\.ts\(2,7\): error TS2741: .*'kerf'/,
    );
    expect(
      compiled(
        `import type { LinearProgramme } from 'kerfleaf/cutting';\nexport type { LinearProgramme };\n`,
      ),
    ).toMatch(/TS2459|TS2305/);
  });

  it('name every export of the module, and need no other file', () => {
    const index = readFileSync(join(root, 'src/cutting/index.ts'), 'utf8');
    const names = [...index.matchAll(/^export (?:type )?\{([^}]*)\}/gm)].flatMap((match) =>
      (match[1] ?? '').split(',').flatMap((name) => /[A-Za-z]\w*$/.exec(name.trim())?.[0] ?? []),
    );
    expect(names.length).toBeGreaterThan(20);
    for (const name of names)
      expect(types).toMatch(new RegExp(`^export (?:declare )?(?:function|interface|type) ${name}\\b`, 'm'));
    expect(types).not.toMatch(/^import\b/m);
  });
});
