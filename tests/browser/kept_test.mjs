// Logged means kept: five sets by tap with the server gone, the browser killed within 50 ms
// of the fifth "kept", opened again, handed over, and read by the native program.
//
//   SLIPWAY_KILLS   how often (20)
import { App, browse, equal, holds, journey, look, newProfile, note, runJourneys, serve } from './kit.mjs';

const kills = Number(process.env.SLIPWAY_KILLS || 20);
const sets = 5;
const killWithinMs = 50;
const tries = 5;  // a kill that came late on a busy machine shows nothing and is done again

// Resolves when the page shows `count` kept cells, with the page's own clock.
async function watchKept(page, count) {
  let seen;
  const kept = new Promise((done) => { seen = done; });
  await page.exposeFunction('slipwayKeptSeen', (at) => seen(at));
  await page.evaluate((wanted) => {
    const mirror = document.getElementById('mirror');
    const look = () => {
      const cells = [...mirror.querySelectorAll('[role="gridcell"]')].filter((cell) => cell.textContent.endsWith(', kept'));
      if (cells.length < wanted) return;
      watcher.disconnect();
      window.slipwayKeptSeen(performance.timeOrigin + performance.now());
    };
    const watcher = new MutationObserver(look);
    watcher.observe(mirror, { subtree: true, childList: true, characterData: true });
  }, count);
  return kept;
}

// Logs the sets; answers between which moments each was logged.
async function logSets(app, page, kept) {
  const logged = [];
  for (let set = 1; set <= sets; set += 1) {
    const key = await app.logKeyListens();
    const before = Date.now();
    await key.tap();
    if (set < sets) await app.keptAre(set);
    else await kept;
    logged.push({ before, after: Date.now() });
  }
  return logged;
}

// One browser's life and death; answers what must be found afterwards.
async function liveAndDie(own) {
  const server = await serve();
  const browser = own(await browse());
  const { page } = browser;
  const app = await App.at(page, server.address, '');
  await app.offline();
  await server.stop();
  await app.start('Wren');
  const kept = watchKept(page, sets);
  let lateMs = 0;
  const killed = kept.then((seenAt) => {
    browser.kill();
    lateMs = Date.now() - seenAt;
  });
  const logged = await logSets(app, page, kept);
  await killed;
  await browser.gone();
  return { profile: browser.profile, address: server.address, logged, lateMs };
}

const milliseconds = (iso) => Date.parse(iso);

async function readBack(own, life) {
  const browser = own(await browse({ profile: life.profile }));
  const app = await App.at(browser.page, life.address, '');
  const firstFrame = await browser.page.evaluate(() => performance.getEntriesByName('first frame')[0].startTime);
  await app.keptAre(sets);
  holds(!(await browser.page.getByText('copied or restored').count()), 'the store knows itself again');
  await app.place('Exchange');
  const file = await app.handOver(/^Hand over$/);
  const found = setsIn(look(file));
  equal(found.map((set) => `${set.exercise} ${set.round}`), ['SQ4 1', 'VP4 1', 'PU3 1', 'SQ4 2', 'VP4 2'], 'the circuit in order');
  found.forEach((set, i) => {
    const at = milliseconds(set.claimed);
    const { before, after } = life.logged[i];
    holds(at >= before && at <= after, `set ${i + 1} claims ${set.claimed}, logged between ${new Date(before).toISOString()} and ${new Date(after).toISOString()}`);
  });
  await browser.stop();
  return firstFrame;
}

function setsIn(bundle) {
  return bundle.sets;
}

for (let round = 1; round <= kills; round += 1) {
  journey(`five sets survive a killed browser, ${round} of ${kills}`, async (own) => {
    for (let attempt = 1; ; attempt += 1) {
      const life = await liveAndDie(own);
      const firstFrame = await readBack(own, life);
      note(`killed ${life.lateMs.toFixed(1)} ms after the fifth "kept"; opened again in ${firstFrame.toFixed(0)} ms`);
      if (life.lateMs <= killWithinMs) return;
      holds(attempt < tries, `no kill within ${killWithinMs} ms in ${tries} tries`);
    }
  });
}

await runJourneys();
