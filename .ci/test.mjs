// `npm test`: finds what the tests need besides npm packages, a Chromium and poppler's PDF readers, installs them where it
// may, says what to do where it may not, and then runs vitest with the arguments it was given.
import { spawnSync } from 'node:child_process';
import { accessSync, constants, existsSync } from 'node:fs';
import { delimiter, dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));

function onPath(name) {
  for (const folder of (process.env.PATH ?? '').split(delimiter)) {
    for (const ending of process.platform === 'win32' ? ['.exe', '.cmd'] : ['']) {
      const file = join(folder, name + ending);
      try {
        accessSync(file, constants.X_OK);
        return file;
      } catch {
        // Not here: look further.
      }
    }
  }
  return undefined;
}

const BROWSER_NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'google-chrome-stable', 'chrome', 'msedge'];
const BROWSER_FILES = [
  '/Applications/Chromium.app/Contents/MacOS/Chromium',
  '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
  'C:/Program Files/Google/Chrome/Application/chrome.exe',
  'C:/Program Files (x86)/Microsoft/Edge/Application/msedge.exe',
];

function findBrowser() {
  const named = process.env.CHROMIUM_PATH;
  if (named !== undefined && named !== '') {
    if (existsSync(named)) return named;
    console.error(`CHROMIUM_PATH is ${named}, and there is no such file.`);
    process.exit(2);
  }
  for (const name of BROWSER_NAMES) {
    const file = onPath(name);
    if (file !== undefined) return file;
  }
  return BROWSER_FILES.find((file) => existsSync(file));
}

const missing = () => {
  const lacking = [];
  if (findBrowser() === undefined) lacking.push('chromium');
  if (onPath('pdftotext') === undefined || onPath('pdffonts') === undefined) lacking.push('poppler-utils');
  return lacking;
};

const wanted = missing();
if (wanted.length > 0 && onPath('apt-get') !== undefined && process.getuid?.() === 0) {
  console.log(`Installing ${wanted.join(' and ')} …`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  const apt = (...words) => spawnSync('apt-get', words, { stdio: ['ignore', 'ignore', 'inherit'], env });
  apt('update', '-qq');
  apt('install', '-y', '-qq', '--no-install-recommends', ...wanted);
}

const lacking = missing();
if (lacking.length > 0) {
  const advice = {
    chromium:
      'A Chromium is needed for the browser tests. Install one (Debian: "sudo apt-get install chromium"; any system: ' +
      '"npx playwright-core install chromium"), and if it is not found, set CHROMIUM_PATH to its program file.',
    'poppler-utils':
      'pdftotext and pdffonts are needed to read the PDFs back. Install poppler (Debian: "sudo apt-get install ' +
      'poppler-utils"; macOS: "brew install poppler").',
  };
  for (const name of lacking) console.error(advice[name]);
  process.exit(2);
}

const run = spawnSync(process.execPath, [join(root, 'node_modules/vitest/vitest.mjs'), 'run', ...process.argv.slice(2)], {
  cwd: root,
  stdio: 'inherit',
  env: { ...process.env, CHROMIUM_PATH: findBrowser() },
});
process.exit(run.status ?? 1);
