import { request } from 'node:http';
import { afterEach, describe, expect, it } from 'vitest';
import { type Preview, pathOf, servePreview } from '../../src/shell/serve.ts';

const FILES: Record<string, string> = {
  'index.html': '<!doctype html><html><body><h1>Shop</h1></body></html>',
  'plans/a/index.html': '<!doctype html><html><body>Plan</body></html>',
  'style.css': 'body {}',
};

let preview: Preview | undefined;
afterEach(async () => {
  await preview?.close();
  preview = undefined;
});

const start = async () => {
  preview = await servePreview(
    0,
    async (path) => FILES[path],
    () => {},
    (path) => (path === 'plans/a/index.html' ? [{ name: 'a-letter.pdf', words: 'Inches & "more"' }] : []),
  );
  return preview.port;
};

/** Asks as a raw client does: fetch would tidy the path and refuse to set a host. */
const ask = (port: number, path: string, headers: Record<string, string> = {}, method = 'GET') =>
  new Promise<{ code: number; body: string; headers: Record<string, unknown> }>((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, method, headers }, (response) => {
      let body = '';
      response.on('data', (part) => {
        body += part;
      });
      response.on('end', () => resolve({ code: response.statusCode ?? 0, body, headers: response.headers }));
    });
    asked.on('error', reject);
    asked.end();
  });

describe('addresses', () => {
  it.each([
    ['/', 'index.html'],
    ['/plans/a/', 'plans/a/index.html'],
    ['/plans/a/index.html?x=1', 'plans/a/index.html'],
    ['/caf%C3%A9.html', 'café.html'],
  ])('%s', (address, path) => {
    expect(pathOf(address)).toBe(path);
  });

  it.each([
    '/../secret',
    '/plans/../../secret',
    '/%2e%2e/secret',
    '/..%2fsecret',
    '/plans/./a',
    '/a\\..\\b',
    '/%5c..%5cb',
    '/%00',
    '/%zz',
    '//etc/passwd',
    'http://elsewhere.example/',
  ])('leads nowhere: %s', (address) => {
    expect(pathOf(address)).toBeUndefined();
  });
});

describe('the preview server', () => {
  it('serves pages with the script, and other files as they are', async () => {
    const port = await start();
    const page = await ask(port, '/');
    expect(page.code).toBe(200);
    expect(page.body).toContain(
      '<h1>Shop</h1><script src="/-kerfleaf/reload.js" data-sheets="[]"></script></body>',
    );
    expect(page.headers['cache-control']).toBe('no-store');
    expect((await ask(port, '/style.css')).body).toBe('body {}');
    expect((await ask(port, '/-kerfleaf/reload.js')).body).toContain('EventSource');
  });

  it('hands the page of a plan the names of its sheets, whatever is in them', async () => {
    const { body } = await ask(await start(), '/plans/a/');
    const sent = /data-sheets="([^"]*)"/.exec(body)?.[1] ?? '';
    expect(JSON.parse(sent.replaceAll('&quot;', '"').replaceAll('&amp;', '&'))).toEqual([
      { name: 'a-letter.pdf', words: 'Inches & "more"' },
    ]);
  });

  it('sends a folder without its slash to the folder', async () => {
    const answer = await ask(await start(), '/plans/a');
    expect([answer.code, answer.headers.location]).toEqual([302, '/plans/a/']);
  });

  it('answers only to names of this machine', async () => {
    const port = await start();
    expect((await ask(port, '/', { host: `localhost:${port}` })).code).toBe(200);
    expect((await ask(port, '/', { host: `[::1]:${port}` })).code).toBe(200);
    expect((await ask(port, '/', { host: 'shop.example' })).code).toBe(403);
    expect((await ask(port, '/', { host: 'localhost.shop.example' })).code).toBe(403);
    expect((await ask(port, '/', { host: '127.0.0.1.shop.example:80' })).code).toBe(403);
  });

  it('gives no file outside the site and takes no writing', async () => {
    const port = await start();
    expect((await ask(port, '/../package.json')).code).toBe(404);
    expect((await ask(port, '/%2e%2e/package.json')).code).toBe(404);
    expect((await ask(port, '/', {}, 'POST')).code).toBe(405);
  });

  it('tells open pages of changes and faults', async () => {
    const port = await start();
    const told: string[] = [];
    const stream = request({ host: '127.0.0.1', port, path: '/-kerfleaf/events' }, (response) => {
      response.on('data', (part) => told.push(String(part)));
      response.on('error', () => {});
    });
    stream.on('error', () => {});
    stream.end();
    const until = async (count: number) => {
      for (let turn = 0; turn < 200 && told.length < count; turn += 1)
        await new Promise((done) => setTimeout(done, 5));
    };
    await until(1);
    preview?.faults([{ place: 'a.md:1:2', severity: 'error', message: '<b>no</b>' }]);
    await until(2);
    preview?.changed();
    await until(3);
    expect(told.map((line) => JSON.parse(line.slice('data: '.length)))).toEqual([
      { version: 0, faults: [] },
      { version: 0, faults: [{ place: 'a.md:1:2', severity: 'error', message: '<b>no</b>' }] },
      { version: 1, faults: [] },
    ]);
  });
});
