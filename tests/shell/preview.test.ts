/** The preview as an author uses it: pages, a size edit, a fault, its cure, a PDF, the end. On the real disk, in one process. */
import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { request } from 'node:http';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/main.ts';
import { flowText } from '../support/pdf.ts';
import { demoShop } from '../support/run.ts';

const PLAN = 'content/plans/nest-box/plan.md';

let shop = '';
let address = '';
let code: Promise<number>;
let interrupt: () => void = () => {};
let said = '';
const states: { version: number; faults: { place: string; message: string; hint?: string }[] }[] = [];

const until = async (what: () => boolean): Promise<void> => {
  for (let turn = 0; turn < 3000 && !what(); turn += 1) await new Promise((done) => setTimeout(done, 20));
  expect(what()).toBe(true);
};

const change = (from: string | RegExp, to: string): void => {
  const file = join(shop, PLAN);
  const text = readFileSync(file, 'utf8');
  expect(text).toMatch(from);
  writeFileSync(file, text.replace(from, to));
};

const page = async (path: string) => (await fetch(address + path)).text();

beforeAll(async () => {
  shop = demoShop();
  // One plan is enough here and builds sooner.
  for (const other of ['coat-rack', 'potting-bench', 'step-stool', 'window-seat'])
    rmSync(join(shop, 'content/plans', other), { recursive: true });
  const file = join(shop, 'content/shop.yaml');
  writeFileSync(file, readFileSync(file, 'utf8').replace(/^checkout:\n(?: .*\n)*/m, ''));
  let out = '';
  const terminal = {
    out: (text: string) => {
      out += text;
    },
    err: (text: string) => {
      said += text;
    },
    live: false,
    columns: 80,
    interrupted: new Promise<void>((resolve) => {
      interrupt = resolve;
    }),
  };
  code = run(['preview', '--port', '0', '--shop', shop], terminal);
  await until(() => out.includes('\n'));
  address = out.split('\n')[0] as string;
  const events = request(`${address}-kerfleaf/events`, (response) => {
    response.on('data', (text) => states.push(JSON.parse(String(text).slice('data: '.length))));
    response.on('error', () => {});
  });
  events.on('error', () => {});
  events.end();
  await until(() => states.some((state) => state.version === 1));
}, 120_000);

afterAll(async () => {
  interrupt();
  await code;
});

describe('preview', () => {
  it('serves on this machine only and shows the plan', async () => {
    expect(address).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);
    expect(await page('plans/nest-box/')).toContain('Nest box from one board');
  });

  it('shows an edit of a size', async () => {
    // The hanging strip is named in a sentence of step 2.
    expect(await page('plans/nest-box/')).not.toContain('53 mm');
    const { version } = states.at(-1) as { version: number };
    change('hanging-strip: 2 in | 50 mm', 'hanging-strip: 2 in | 53 mm');
    await until(() => (states.at(-1)?.version ?? 0) > version);
    expect(await page('plans/nest-box/')).toContain('53 mm');
  });

  it('shows a fault with its place and hint, and keeps the last good page', async () => {
    change('hanging-strip: 2 in | 53 mm', 'hanging-strip: 2 inn | 53 mm');
    await until(() => (states.at(-1)?.faults.length ?? 0) > 0);
    const fault = states.at(-1)?.faults[0];
    expect(fault?.place).toMatch(new RegExp(`^${PLAN}:\\d+:\\d+$`));
    expect(fault?.message).toMatch(/^expected .*, found/);
    expect(await page('plans/nest-box/')).toContain('53 mm');
    expect(said).toContain(`${PLAN}:`);
  });

  it('takes the fault away when it is cured', async () => {
    const { version } = states.at(-1) as { version: number };
    change('2 inn | 53 mm', '2 in | 55 mm');
    await until(() => (states.at(-1)?.version ?? 0) > version);
    expect(states.at(-1)?.faults).toEqual([]);
    expect(await page('plans/nest-box/')).toContain('55 mm');
  });

  it('makes a PDF when it is asked for, of the plan as it is now', async () => {
    const pdf = await fetch(`${address}plans/nest-box/nest-box-metric-a4.pdf`);
    expect(pdf.headers.get('content-type')).toBe('application/pdf');
    expect(flowText(new Uint8Array(await pdf.arrayBuffer()))).toContain('55 mm');
  });

  it('shows of a paid plan what its page will show, and its sheets to its author alone', async () => {
    const sheet = 'nest-box-metric-a4.pdf';
    const shopFile = join(shop, 'content/shop.yaml');
    const shopText = readFileSync(shopFile, 'utf8');
    let { version } = states.at(-1) as { version: number };
    writeFileSync(
      shopFile,
      `${shopText}checkout: { nest-box: 'https://nettlefield.example.com/checkout/nest-box' }\n`,
    );
    change('price: free', 'price: { USD: 4 }');
    await until(() => (states.at(-1)?.version ?? 0) > version);
    const sold = await page('plans/nest-box/');
    expect(sold).toContain('Buy the plan');
    expect(sold).toContain('sample-');
    // The page has no link to the sheets; the preview's own script has.
    const [before, script] = sold.split('<script src="/-kerfleaf/');
    expect(before).not.toContain(sheet);
    expect(script).toContain(sheet);
    expect(script).toContain('Millimetres');
    const pdf = await fetch(`${address}plans/nest-box/${sheet}`);
    expect(pdf.headers.get('content-type')).toBe('application/pdf');
    const words = flowText(new Uint8Array(await pdf.arrayBuffer()));
    expect(words).toContain('55 mm');
    // Sheets that the page doesn't show are drawn for the PDF: layouts and the sheets of single parts.
    expect(words).toContain('How it goes together');
    expect(words).toContain('Part B: side');
    expect((await fetch(`${address}plans/nest-box/other.pdf`)).status).toBe(404);
    version = (states.at(-1) as { version: number }).version;
    change('price: { USD: 4 }', 'price: free');
    writeFileSync(shopFile, shopText);
    await until(() => (states.at(-1)?.version ?? 0) > version && states.at(-1)?.faults.length === 0);
  });

  it('shows a new plan', async () => {
    const { version } = states.at(-1) as { version: number };
    expect(
      await run(['draft', 'tool-tote', '--quiet', '--shop', shop], {
        out: () => {},
        err: () => {},
        live: false,
        columns: 80,
        interrupted: new Promise(() => {}),
      }),
    ).toBe(0);
    await until(() => (states.at(-1)?.version ?? 0) > version);
    expect(await page('plans/tool-tote/')).toContain('Tool tote');
  });

  it('ends cleanly', async () => {
    interrupt();
    expect(await code).toBe(0);
    await expect(fetch(address)).rejects.toThrow();
  });
});
