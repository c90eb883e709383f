/**
 * The local server of `preview`: serves what it is handed from memory, on this machine only, and tells the open pages when
 * something has changed or gone wrong.
 */
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import { RELOAD_SCRIPT } from './reload.ts';

/** A finding as the page shows it. */
export interface ShownFault {
  readonly place: string;
  readonly severity: string;
  readonly message: string;
  readonly hint?: string;
}

/** The sheets of a plan in an edition: a PDF beside its page. */
export interface SheetLink {
  readonly name: string;
  readonly words: string;
}

/** What the server asks for and tells. */
export interface Preview {
  readonly port: number;
  /** Shows the site anew in every open page. */
  readonly changed: () => void;
  /** Shows findings over the page, which stays as it was; none takes them away. */
  readonly faults: (list: readonly ShownFault[]) => void;
  readonly close: () => Promise<void>;
}

/** Finds a file of the site by its path below the root, `plans/potting-bench/index.html`; undefined where there is none. */
export type FindFile = (path: string) => Promise<Uint8Array | string | undefined>;

const TYPES: Readonly<Record<string, string>> = {
  html: 'text/html; charset=utf-8',
  css: 'text/css; charset=utf-8',
  js: 'text/javascript; charset=utf-8',
  json: 'application/json; charset=utf-8',
  svg: 'image/svg+xml',
  xml: 'application/xml; charset=utf-8',
  txt: 'text/plain; charset=utf-8',
  csv: 'text/csv; charset=utf-8',
  pdf: 'application/pdf',
  png: 'image/png',
  jpg: 'image/jpeg',
  webp: 'image/webp',
  avif: 'image/avif',
  woff2: 'font/woff2',
  zip: 'application/zip',
};

/** The folder of the server's own files: no plan can be called this, its name starts with a hyphen. */
const OWN = '/-kerfleaf/';

/** Names by which this machine calls itself. Another name that leads here is a trick to read the pages from outside. */
const LOOPBACK = /^(?:localhost|127\.0\.0\.1|\[::1\])(?::\d+)?$/i;

/** The file that an address stands for, or undefined for one that is not well formed or climbs out of the site. */
export function pathOf(address: string): string | undefined {
  let decoded: string;
  try {
    decoded = decodeURIComponent(address.split(/[?#]/)[0] ?? '');
  } catch {
    return undefined;
  }
  if (!decoded.startsWith('/') || decoded.includes('\\') || decoded.includes('\0')) return undefined;
  const parts = decoded.slice(1).split('/');
  if (parts.some((part) => part === '..' || part === '.')) return undefined;
  if (parts.at(-1) === '') parts[parts.length - 1] = 'index.html';
  if (parts.some((part) => part === '')) return undefined;
  return parts.join('/');
}

/** Starts serving on a port of 127.0.0.1; 0 takes a free one. `sheetsOf` a page are linked on it. Throws where the port is taken. */
export async function servePreview(
  port: number,
  find: FindFile,
  failed: (error: unknown) => void,
  sheetsOf: (path: string) => readonly SheetLink[] = () => [],
): Promise<Preview> {
  const listeners = new Set<ServerResponse>();
  let version = 0;
  let shown: readonly ShownFault[] = [];
  const state = () => `data: ${JSON.stringify({ version, faults: shown })}\n\n`;
  const tell = () => {
    for (const listener of listeners) listener.write(state());
  };

  const answer = async (request: IncomingMessage, response: ServerResponse): Promise<void> => {
    const send = (code: number, type: string, body: Uint8Array | string) => {
      response.writeHead(code, {
        'content-type': type,
        'cache-control': 'no-store',
        'x-content-type-options': 'nosniff',
      });
      response.end(request.method === 'HEAD' ? undefined : body);
    };
    if (!LOOPBACK.test(request.headers.host ?? ''))
      return send(403, 'text/plain; charset=utf-8', 'This preview is served to this machine only.\n');
    if (request.method !== 'GET' && request.method !== 'HEAD')
      return send(405, 'text/plain; charset=utf-8', 'Pages can only be read here.\n');
    const address = request.url ?? '/';
    if (address === `${OWN}reload.js`) return send(200, TYPES.js as string, RELOAD_SCRIPT);
    if (address === `${OWN}events`) {
      response.writeHead(200, { 'content-type': 'text/event-stream', 'cache-control': 'no-store' });
      response.write(state());
      listeners.add(response);
      response.on('close', () => listeners.delete(response));
      return;
    }
    const path = pathOf(address);
    const content = path === undefined ? undefined : await find(path);
    if (path !== undefined && content !== undefined) {
      const type = TYPES[path.split('.').at(-1) ?? ''] ?? 'application/octet-stream';
      return send(200, type, type === TYPES.html ? withReload(content, sheetsOf(path)) : content);
    }
    // A folder without its slash: the page's relative links would lead astray, so the address is put right.
    if (path !== undefined && (await find(`${path}/index.html`)) !== undefined) {
      response.writeHead(302, { location: `/${path.split('/').map(encodeURIComponent).join('/')}/` });
      response.end();
      return;
    }
    const missing = await find('404.html');
    send(404, TYPES.html as string, withReload(missing ?? emptyPage(path === 'index.html')));
  };

  const server: Server = createServer((request, response) => {
    answer(request, response).catch((error: unknown) => {
      failed(error);
      if (!response.headersSent) response.writeHead(500, { 'content-type': 'text/plain; charset=utf-8' });
      response.end('Something went wrong while this was made; the terminal says what.\n');
    });
  });
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(port, '127.0.0.1', resolve);
  });
  const address = server.address();
  return {
    port: typeof address === 'object' && address !== null ? address.port : port,
    changed: () => {
      version += 1;
      shown = [];
      tell();
    },
    faults: (list) => {
      shown = list;
      tell();
    },
    close: () =>
      new Promise((resolve) => {
        for (const listener of listeners) listener.end();
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/** A page with the script that listens for changes and links the sheets. */
function withReload(content: Uint8Array | string, sheets: readonly SheetLink[] = []): string {
  const page = typeof content === 'string' ? content : new TextDecoder().decode(content);
  const data = JSON.stringify(sheets).replaceAll('&', '&amp;').replaceAll('"', '&quot;');
  const script = `<script src="${OWN}reload.js" data-sheets="${data}"></script>`;
  const end = page.lastIndexOf('</body>');
  return end < 0 ? page + script : page.slice(0, end) + script + page.slice(end);
}

/** The page shown where there is nothing (yet): findings come over it. */
const emptyPage = (start: boolean): string =>
  `<!doctype html><html lang="en"><meta charset="utf-8"><title>Preview</title><body><p>${
    start
      ? 'The plans are being drawn and appear here as soon as they are ready. What is wrong with them is shown over this page.'
      : 'There is no such page in this shop.'
  }</p></body></html>`;
