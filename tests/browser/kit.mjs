// What the browser journeys share: the staged page on a server of its own, a Chromium that
// can be killed, waiting without guessing, and one line a journey.
//
//   SLIPWAY_WEB    build folder with slipway.js and slipway.wasm (build/wasm)
//   SLIPWAY_EXE    the native program (build/native/slipway)
//   CHROMIUM       the browser (/usr/bin/chromium)
import { execFileSync, spawn, spawnSync } from 'node:child_process';
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';

export const root = resolve(dirname(fileURLToPath(import.meta.url)), '../..');
const require = createRequire(import.meta.url);
const modules = join(root, 'build/third-party/node/node_modules');
// In the build folder, or wherever NODE_PATH says.
const whereIs = (name) => (existsSync(join(modules, name)) ? join(modules, name) : require.resolve(name));
const { chromium } = require(whereIs('playwright-core'));
export const axe = () => readFileSync(whereIs('axe-core/axe.min.js'), 'utf8');

const build = resolve(root, process.env.SLIPWAY_WEB || 'build/wasm');
const slipway = resolve(root, process.env.SLIPWAY_EXE || 'build/native/slipway');
const browserFile = process.env.CHROMIUM || '/usr/bin/chromium';
const waitMs = 40000;  // the longest a healthy machine under load needs for anything here
const work = mkdtempSync(join(tmpdir(), 'slipway-browser-'));
process.on('exit', () => rmSync(work, { recursive: true, force: true, maxRetries: 5 }));
const quiet = ['--no-sandbox', '--force-device-scale-factor=1', '--disable-background-networking', '--disable-component-update', '--no-first-run'];
const drawnBySoftware = ['--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader'];

// --- waiting -------------------------------------------------------------------------------

export async function until(what, check, { ms = waitMs, every = 25 } = {}) {
  const end = Date.now() + ms;
  let last = null;
  for (;;) {
    try {
      last = await check();
      if (last) return last;
    } catch (error) {
      last = error.message;
    }
    if (Date.now() > end) throw new Error(`waited ${ms} ms for: ${what} (last: ${last})`);
    await new Promise((done) => setTimeout(done, every));
  }
}

export function equal(is, should, what) {
  const [a, b] = [JSON.stringify(is), JSON.stringify(should)];
  if (a !== b) throw new Error(`${what}: is ${a}, should be ${b}`);
}

export function holds(condition, what) {
  if (!condition) throw new Error(what);
}

// --- journeys --------------------------------------------------------------------------------

const journeys = [];

export function journey(name, run) {
  journeys.push({ name, run });
}

export const note = (text) => console.log(`# ${text}`);

// Runs them one after another; what a journey opened is closed whatever happens.
export async function runJourneys() {
  if (!existsSync(join(build, 'slipway.wasm'))) {
    console.log(`not ok - there is no program in ${build}: build it first, or name its folder in SLIPWAY_WEB`);
    process.exit(1);
  }
  const only = process.argv[2] || '';
  let failed = 0;
  for (const { name, run } of journeys.filter((one) => one.name.includes(only))) {
    const started = Date.now();
    const opened = [];
    try {
      await run((thing) => {
        opened.push(thing);
        return thing;
      });
      console.log(`ok - ${name} (${Date.now() - started} ms)`);
    } catch (error) {
      failed += 1;
      console.log(`not ok - ${name}\n#   ${String(error.stack).replaceAll('\n', '\n#   ')}`);
      const seen = opened.filter((thing) => thing.picture);
      for (const [i, thing] of seen.entries()) await thing.picture(i === 0 ? name : `${name} ${i + 1}`);
    }
    for (const thing of opened.reverse()) await thing.stop();
  }
  process.exitCode = failed ? 1 : 0;
}

// --- the page's server -----------------------------------------------------------------------

let staged = false;

function site() {
  if (!staged) execFileSync('node', [join(root, 'wasm-shell/stage.mjs'), build]);
  staged = true;
  return join(build, 'site');
}

// A copy that a journey may change, as a new version would.
export function siteCopy() {
  const folder = join(work, `site-${Date.now()}`);
  cpSync(site(), folder, { recursive: true });
  return folder;
}

// On a port of its own, or on that of a server before: then it is the same site to a browser.
export async function serve(folder = site(), port = 0) {
  const server = spawn('node', [join(root, 'wasm-shell/server.mjs'), folder, String(port)], { stdio: ['ignore', 'pipe', 'inherit'] });
  const address = await new Promise((listens) => server.stdout.once('data', (line) => listens(String(line).trim().split(' ')[1])));
  const gone = new Promise((exits) => server.once('exit', exits));
  const stop = () => {
    server.kill();
    return gone;
  };
  return { address, stop };
}

// --- the browser -------------------------------------------------------------------------------

let profiles = 0;

export function newProfile({ fontSize } = {}) {
  profiles += 1;
  const folder = join(work, `profile-${profiles}`);
  mkdirSync(join(folder, 'Default'), { recursive: true });
  if (fontSize) {
    const preferences = { webkit: { webprefs: { default_font_size: fontSize } } };
    writeFileSync(join(folder, 'Default/Preferences'), JSON.stringify(preferences));
  }
  return folder;
}

// The browser's own process, by the profile that only we use.
function browserPid(folder) {
  for (const pid of readdirSync('/proc').filter((name) => /^[0-9]+$/.test(name))) {
    try {
      const words = readFileSync(`/proc/${pid}/cmdline`, 'utf8').split('\0');
      if (words.includes(`--user-data-dir=${folder}`) && !words.some((word) => word.startsWith('--type='))) return Number(pid);
    } catch {
      // gone meanwhile
    }
  }
  throw new Error('the browser has no process');
}

export async function browse({ profile = newProfile(), width = 390, height = 844, serviceWorkers = 'allow' } = {}) {
  const context = await chromium.launchPersistentContext(profile, {
    executablePath: browserFile, viewport: { width, height }, deviceScaleFactor: 1, hasTouch: true, acceptDownloads: true, serviceWorkers,
    args: [...quiet, ...drawnBySoftware],
  });
  context.setDefaultTimeout(waitMs);
  const trouble = [];
  const watch = (page) => {
    page.on('pageerror', (error) => trouble.push(error.message));
    page.on('console', (line) => line.type() === 'error' && trouble.push(line.text()));
  };
  context.on('page', watch);
  context.pages().forEach(watch);
  const pid = browserPid(profile);
  let open = true;
  context.on('close', () => { open = false; });
  return {
    context, profile, trouble, page: context.pages()[0],
    // All its processes at once, as a dead battery would. It leads their group.
    kill: () => process.kill(-pid, 'SIGKILL'),
    gone: () => until('the browser is gone', () => !open),
    stop: async () => { if (open) await context.close().catch(() => {}); },
    picture: async (name) => {
      const folder = join(root, 'build/logs');
      mkdirSync(folder, { recursive: true });
      const file = join(folder, `${name.replaceAll(/[^a-z0-9]+/gi, '-')}.png`);
      if (open) await context.pages().at(-1).screenshot({ path: file }).catch(() => {});
    },
  };
}

// The page is served `file` with a line of code before it: a browser that lacks something.
export async function before(context, file, code) {
  await context.route(`**/${file}`, async (route) => {
    const answer = await route.fetch();
    await route.fulfill({ response: answer, body: `${code}\n${await answer.text()}` });
  });
}

// The same browser on another day: the app's worker, which is where its clock is, is served with its calendar moved by
// what `byMs()` answers when it is loaded. A page that a service worker serves is not reached.
export async function calendar(context, byMs) {
  await context.route('**/worker.js', async (route) => {
    const answer = await route.fetch();
    const moved = `{ const Real = Date, by = ${byMs()};
      globalThis.Date = class extends Real {
        constructor(...from) { if (from.length) super(...from); else super(Real.now() + by); }
        static now() { return Real.now() + by; }
      }; }`;
    await route.fulfill({ response: answer, body: `${moved}\n${await answer.text()}` });
  });
}

// --- the app in a page --------------------------------------------------------------------------

export class App {
  constructor(page) {
    this.page = page;
  }

  static async at(page, address, query = '?test=1') {
    await page.goto(address + query);
    const app = new App(page);
    await app.firstFrame();
    return app;
  }

  firstFrame() {
    return this.page.locator('#mirror[data-frames]').waitFor();
  }
  offline() {
    return this.page.locator('html[data-offline="ready"]').waitFor();
  }
  frames() {
    return this.page.locator('#mirror').getAttribute('data-frames').then(Number);
  }
  get(role, name) {
    return this.page.getByRole(role, { name, exact: true });
  }

  press(name) {
    return this.get('button', name).tap();
  }

  // After an answer the next question stands in its place: for a moment the app is deaf, so that a second tap answers nothing.
  unhurried() {
    return this.page.waitForTimeout(800);
  }

  // An adult: without a year of birth the careful limits of a child hold.
  // Under 18: a parent or guardian says yes to each of the four, before the first entry.
  async consent() {
    await this.press('Answer now');
    await this.get('radio', 'parent or guardian').tap();
    for (const thing of ['Training log', 'Pain and soreness', 'Body mass, height and growth', 'How the morning was'])
      await this.page.getByRole('radiogroup', { name: thing }).getByRole('radio', { name: 'Yes' }).tap();
    await this.press('Keep these answers');
    await this.said(/Kept: what may be kept/);
  }

  async start(name = 'Wren', born = '1991') {
    await this.get('textbox', /name/i).fill(name);
    await this.get('textbox', /year of birth/i).fill(born);
    await this.press('Start');
    await this.get('grid', /whiteboard/i).waitFor();
  }

  // For a moment after a log the main key is deaf, and says "Kept" or "Keeping" meanwhile.
  async logKeyListens() {
    await until('the main key listens', () => this.logKeyListensNow());
    return this.logKey();
  }
  logKey() {
    return this.get('button', /^Log (as written|one more)/).first();  // of a last set: with the written reserve left
  }
  // Read in one moment: the key may go while one waits for it.
  logKeyListensNow() {
    return this.get('button', /^Log (as written|one more)/).evaluateAll((keys) => {
      const hint = keys.length > 0 && document.getElementById(keys[0].getAttribute('aria-describedby') || '');
      return keys.length > 0 && (!hint || !/^(Kept|Keeping)/.test(hint.textContent));
    });
  }

  async log() {
    await (await this.logKeyListens()).tap();
  }

  // Effort by its number; the minutes come from the clock.
  async finish(effort) {
    await this.press('Finish');
    await this.get('radio', new RegExp(`^${effort}, `)).tap();
    await this.press(/^Finish: effort/);
    await this.page.getByText('Session finished and kept.').first().waitFor();
  }

  cells() {
    return this.page.getByRole('gridcell').allTextContents();
  }
  async kept() {
    return (await this.cells()).filter((name) => /(, kept|left out)$/.test(name)).length;
  }
  async keptAre(count) {
    return until(`${count} kept`, async () => (await this.kept()) === count);
  }

  // Large text leaves the bar room for one place and "All places".
  async place(name) {
    await this.page.getByRole('tab').first().waitFor();
    const tab = this.get('tab', name);
    if (await tab.count() > 0) {
      await tab.tap();
      await this.page.getByRole('tab', { name, selected: true }).waitFor();
      return;
    }
    await this.get('tab', 'All places').tap();
    await this.press(new RegExp(`^${name}`));
    await this.page.getByRole('heading', { level: 1 }).first().waitFor();
  }

  said(text) {
    return this.page.locator('#said p', { hasText: text }).last().waitFor({ state: 'attached' });
  }

  // A coach says first for whom: the key asks, and hands over once that is said.
  async forEverybody() {
    await this.press('Hand over');
    await this.get('radio', 'Everybody, for another coach').tap();
  }

  // Presses a key that hands a file over; answers the saved file.
  async handOver(name) {
    const [download] = await Promise.all([this.page.waitForEvent('download'), this.press(name)]);
    const file = join(work, `${Date.now()}-${download.suggestedFilename()}`);
    await download.saveAs(file);
    return file;
  }

  async takeIn(files) {
    const [chooser] = await Promise.all([this.page.waitForEvent('filechooser'), this.press('Take in a bundle')]);
    await chooser.setFiles(files);
  }

  // The port of the tests is a file of its own, which may come after the first frame.
  async port() {
    await this.page.waitForFunction(() => typeof window.slipwayTest === 'function');
  }
  async digests() {
    await this.port();
    return this.page.evaluate(() => window.slipwayTest('digests'));
  }
  async refuse(errorName) {
    await this.port();
    return this.page.evaluate((name) => window.slipwayTest('refuse', { errorName: name }), errorName);
  }
}

// --- the native program ----------------------------------------------------------------------------

export function look(file) {
  return JSON.parse(execFileSync(slipway, ['bundle', 'look', '--json', file], { encoding: 'utf8' }));
}

// One command on a store of its own; its JSON whatever the exit code.
export function command(store, ...words) {
  const done = spawnSync(slipway, ['--json', '--store', store, ...words.map(String)], { encoding: 'utf8' });
  if (!done.stdout) throw new Error(`${words.join(' ')}: ${done.stderr}`);
  return JSON.parse(done.stdout);
}

export function newStore(name) {
  const folder = join(work, name);
  mkdirSync(folder);
  return folder;
}

export function scratch(name, bytes) {
  const file = join(work, name);
  writeFileSync(file, bytes);
  return file;
}
