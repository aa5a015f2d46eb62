// Figures, not promises: how soon the page is there, how soon a set is kept. One line a figure.
// Read times as ratios: the drawing is done by software here.
import { App, browse, newProfile, serve } from '../browser/kit.mjs';

const coldTries = 5, warmTries = 10, taps = 30;
const settleMs = 5000, idleMs = 10000;
const passes = 400, passesWarm = 100, framedTaps = 6;

const sorted = (values) => [...values].sort((a, b) => a - b);
const at = (values, part) => sorted(values)[Math.min(values.length - 1, Math.floor(values.length * part))];
const spread = (values) => `median ${at(values, 0.5).toFixed(0)} ms, worst ${at(values, 1).toFixed(0)} ms, of ${values.length}`;

const firstFrame = (page) => page.evaluate(() => performance.getEntriesByName('first frame')[0].startTime);

// A browser that runs already, and whose graphics are awake: what a person has who opens a page. The bar of the first
// frame is held against this one; a browser's own start, printed beside it, is not ours.
async function awake(profile) {
  const browser = await browse({ profile });
  await browser.page.evaluate(() => document.createElement('canvas').getContext('webgl2').finish());
  return browser;
}

async function cold(address, open) {
  const browser = await open(newProfile());
  await App.at(browser.page, address, '');
  const ms = await firstFrame(browser.page);
  await browser.stop();
  return ms;
}

async function fromServiceWorker(address) {
  const browser = await awake(newProfile());
  const app = await App.at(browser.page, address, '');
  await app.offline();
  await app.start();
  const times = [];
  for (let i = 0; i < warmTries; i += 1) {
    await browser.page.goto('about:blank');
    await App.at(browser.page, address, '');
    times.push(await firstFrame(browser.page));
  }
  await browser.stop();
  return times;
}

// From the click to the moment the board says "kept": commit, two frames, mirror.
async function tapToKept(address) {
  const browser = await awake(newProfile());
  const app = await App.at(browser.page, address, '');
  await app.start();
  await browser.page.evaluate(() => {
    window.keptAfter = [];
    const mirror = document.getElementById('mirror');
    const kept = () => [...mirror.querySelectorAll('[role="gridcell"]')].filter((cell) => cell.textContent.endsWith(', kept')).length;
    let clicked = 0;
    let before = 0;
    addEventListener('click', () => {
      clicked = performance.now();
      before = kept();
    }, true);
    new MutationObserver(() => {
      if (!clicked || kept() === before) return;
      window.keptAfter.push(performance.now() - clicked);
      clicked = 0;
    }).observe(mirror, { subtree: true, childList: true, characterData: true });
  });
  // A session holds twenty rounds: what is kept is taken back, so that there is room for more.
  for (let i = 1; i <= taps; i += 1) {
    await app.log();
    await app.keptAre(1);
    await app.unhurried();
    await app.press('A1 back');
    await app.keptAre(0);
  }
  const times = await browser.page.evaluate(() => window.keptAfter.filter((ms, i) => i % 2 === 0));
  await browser.stop();
  return times;
}

// One pass over a page: widgets, layout and tree, with the drawing switched off. A browser's clock is coarse: a mean of many.
// The squad's page is the made-up squad's, as large as a desk has it.
async function uiPass(address, query, place, width, height) {
  const browser = await browse({ width, height });
  const app = await App.at(browser.page, address, query);
  if (query.includes('demo')) await app.place(place);
  else await app.start();
  const times = await browser.page.evaluate((count) => window.slipwayTest('passes', { count }), passes);
  await browser.stop();
  return times.slice(passesWarm).reduce((sum, ms) => sum + ms, 0) / (passes - passesWarm);
}

// From the tap to the frame that shows it, in frames drawn since: the bar is two.
async function framesToKept(address) {
  const browser = await awake(newProfile());
  const app = await App.at(browser.page, address, '');
  await app.start();
  const most = [];
  for (let i = 1; i <= framedTaps; i += 1) {
    const key = await app.logKeyListens();
    most.push(await key.evaluate((element) => new Promise((done) => {
      const mirror = document.getElementById('mirror');
      const kept = () => [...mirror.querySelectorAll('[role="gridcell"]')].filter((cell) => cell.textContent.endsWith(', kept')).length;
      const before = { kept: kept(), frames: Number(mirror.dataset.frames) };
      const watcher = new MutationObserver(() => {
        if (kept() === before.kept) return;
        watcher.disconnect();
        setTimeout(() => done(Number(mirror.dataset.frames) - before.frames));
      });
      watcher.observe(mirror, { subtree: true, childList: true, characterData: true });
      element.click();
    })));
  }
  await browser.stop();
  return Math.max(...most);
}

// Frames drawn while nothing happens, once the last key has come up.
async function framesWhenIdle(address) {
  const browser = await awake(newProfile());
  const app = await App.at(browser.page, address, '');
  await app.start();
  const pause = (ms) => new Promise((done) => setTimeout(done, ms));
  await pause(settleMs);
  const before = await app.frames();
  await pause(idleMs);
  const frames = (await app.frames()) - before;
  await browser.stop();
  return frames;
}

const server = await serve();
const running = [];
const starting = [];
for (let i = 0; i < coldTries; i += 1) {
  running.push(await cold(server.address, awake));
  starting.push(await cold(server.address, (profile) => browse({ profile })));
}
console.log('browser:');
console.log(`  first frame, empty cache, in a running browser: ${spread(running)}`);
console.log(`  first frame, empty cache, in a browser just started: ${spread(starting)}`);
console.log(`  first frame, from the service worker: ${spread(await fromServiceWorker(server.address))}`);
console.log(`  tap to kept (commit, frame, mirror): ${spread(await tapToKept(server.address))}`);
console.log(`  frames from the tap to the one that shows it kept: at most ${await framesToKept(server.address)}, of ${framedTaps}`);
for (const [name, query, place, width, height] of [['Session', '?test=1&draw=off', 'Session', 390, 844], ['Squad', '?demo&test=1&draw=off', 'Squad', 1440, 900]])
  console.log(`  UI pass, ${name} at ${width} x ${height}, not drawn: mean ${(await uiPass(server.address, query, place, width, height)).toFixed(2)} ms, of ${passes - passesWarm}`);
console.log(`  frames drawn in ${idleMs / 1000} idle seconds: ${await framesWhenIdle(server.address)}`);
await server.stop();
