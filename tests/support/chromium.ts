/** Finds the system's browser for tests, and serves a site to it from memory. */
import { accessSync, constants } from 'node:fs';
import { createServer } from 'node:http';
import { delimiter, join } from 'node:path';
import { type Browser, chromium } from 'playwright-core';
import type { OutputFile } from '../../src/publish/types.ts';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable'];

const runs = (file: string): boolean => {
  try {
    accessSync(file, constants.X_OK);
    return true;
  } catch {
    return false;
  }
};

/** The path of a Chromium: CHROMIUM_PATH, or the first known name on the PATH. Throws a sentence that says what to do. */
export function chromiumPath(environment: NodeJS.ProcessEnv = process.env): string {
  const named = environment.CHROMIUM_PATH;
  if (named !== undefined && named !== '') {
    if (runs(named)) return named;
    throw new Error(
      `CHROMIUM_PATH names ${named}, which is no program that can be run: set it to the path of a Chromium.`,
    );
  }
  for (const name of NAMES)
    for (const folder of (environment.PATH ?? '').split(delimiter)) {
      const file = join(folder, name);
      if (folder !== '' && runs(file)) return file;
    }
  throw new Error(
    'The browser tests need Chromium and found none: install it (on Debian or Ubuntu: apt-get install chromium), or set CHROMIUM_PATH to its path.',
  );
}

/** A browser without a window, which asks nothing of the network by itself. */
export const launchBrowser = (): Promise<Browser> =>
  chromium.launch({
    executablePath: chromiumPath(),
    args: [
      '--no-sandbox',
      '--headless',
      '--disable-gpu',
      '--disable-background-networking',
      '--disable-component-update',
    ],
  });

const TYPES: Readonly<Record<string, string>> = {
  html: 'text/html; charset=utf-8',
  css: 'text/css; charset=utf-8',
  xml: 'application/xml',
  txt: 'text/plain; charset=utf-8',
  woff2: 'font/woff2',
  webp: 'image/webp',
  avif: 'image/avif',
  png: 'image/png',
  jpg: 'image/jpeg',
  pdf: 'application/pdf',
};

/** A site served on loopback, and how to end it. */
export interface Served {
  readonly origin: string;
  readonly close: () => Promise<void>;
}

/** Serves what lies under `site/` as a plain web host would: folders by their index, anything else by its path. */
export async function serveSite(files: readonly OutputFile[]): Promise<Served> {
  const byPath = new Map(files.map((file) => [`/${file.path.replace(/^site\//, '')}`, file.content]));
  const server = createServer((request, response) => {
    const path = decodeURIComponent(new URL(request.url ?? '/', 'http://localhost').pathname);
    const content = byPath.get(path.endsWith('/') ? `${path}index.html` : path);
    if (content === undefined) {
      response
        .writeHead(404, { 'content-type': 'text/html; charset=utf-8' })
        .end(byPath.get('/404.html') ?? '');
      return;
    }
    const ending = path.endsWith('/') ? 'html' : (path.split('.').pop() ?? '');
    response.writeHead(200, { 'content-type': TYPES[ending] ?? 'application/octet-stream' }).end(content);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const address = server.address();
  if (address === null || typeof address === 'string') throw new Error('the server has no port');
  return {
    origin: `http://127.0.0.1:${address.port}`,
    close: () => new Promise((resolve) => server.close(() => resolve())),
  };
}
