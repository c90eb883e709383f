import { describe, expect, it } from 'vitest';
import { COMMANDS, readArguments } from '../../src/shell/args.ts';
import { helpText } from '../../src/shell/help.ts';

describe('arguments', () => {
  it.each([
    ['publish', { name: 'publish', plans: [] }],
    ['publish nest-box --out trial', { name: 'publish', plans: ['nest-box'], out: 'trial' }],
    [
      'publish content/plans/nest-box/plan.md ./content/plans/potting-bench/',
      { name: 'publish', plans: ['nest-box', 'potting-bench'] },
    ],
    ['publish nest-box nest-box', { name: 'publish', plans: ['nest-box'] }],
    ['preview', { name: 'preview', port: 4310 }],
    ['preview --port=0', { name: 'preview', port: 0 }],
    ['proof --format json', { name: 'proof', plans: [], format: 'json' }],
    ['figures potting-bench', { name: 'figures', plan: 'potting-bench', format: 'json' }],
    [
      'figures potting-bench --edition metric --format csv',
      { name: 'figures', plan: 'potting-bench', edition: 'metric', format: 'csv' },
    ],
    ['draft tool-tote', { name: 'draft', slug: 'tool-tote' }],
    ['', { name: 'help' }],
    ['--help', { name: 'help' }],
    ['help proof', { name: 'help', of: 'proof' }],
    ['proof --help', { name: 'help', of: 'proof' }],
    ['--version', { name: 'version' }],
  ])('%s', (words, command) => {
    expect(readArguments(words.split(' ').filter((word) => word !== ''))).toMatchObject({
      ok: true,
      command,
    });
  });

  it.each([
    ['print', /no command "print"$/],
    ['publsh', /no command "publsh"; did you mean "kerfleaf publish"/],
    ['draft Wall Cabinet', /found 2; for instance: kerfleaf draft wall-cabinet$/],
    ['draft WallCabinet', /such as "wall-cabinet"/],
    ['--quiet', /a command is missing/],
    ['publish --colour', /unknown option "--colour"/i],
    ['publish --out', /out/],
    ['publish --port 80', /takes no option --port/],
    ['publish ../secret', /name of a plan/],
    ['preview --port 70000', /port from 0 to 65535/],
    ['preview --port x', /found "x"/],
    ['preview nest-box', /takes no plan/],
    ['proof --format yaml', /text or json/],
    ['figures', /takes one plan, found 0/],
    ['figures a b', /takes one plan, found 2/],
    ['figures a --format xml', /json or csv/],
    ['draft', /one name/],
    ['draft Tool_Tote', /small letters/],
    ['draft ../x', /small letters/],
  ])('wrong: %s', (words, said) => {
    const asked = readArguments(words.split(' '));
    expect(asked.ok).toBe(false);
    if (!asked.ok) expect(asked.problem).toMatch(said);
  });
});

describe('help', () => {
  it.each([undefined, ...COMMANDS])('fits a terminal and names the exit codes: %s', (command) => {
    const text = helpText(command);
    expect(Math.max(...text.split('\n').map((line) => line.length))).toBeLessThanOrEqual(80);
    expect(text).toMatch(/Exit codes/);
    if (command) expect(text.startsWith(`kerfleaf ${command}`)).toBe(true);
  });
});
