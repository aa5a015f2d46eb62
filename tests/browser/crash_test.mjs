// Row 14 of the table of tests: the browser killed, or the worker ended, in the middle of commits, again and again on one
// store: in file handles and in pages of IndexedDB, in Chromium and in Firefox. Every set that was called kept is there.
//
//   SLIPWAY_CRASHES   loops of each (3 kills of a browser and 10 ends of a worker; SLIPWAY_LONG=1: 500)
//
// The page itself logs, as fast as the main key listens, and says after each "kept" how many there are; the kill falls at a
// random moment of that. What the page had said by then must be there, and the store must be sound.
import { browse, equal, holds, journey, newProfile, note, runJourneys, serve, siteCopy, until } from './kit.mjs';
import { firefox, hasFirefox } from './firefox.mjs';
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

const asked = Number(process.env.SLIPWAY_CRASHES || (process.env.SLIPWAY_LONG ? 500 : 0));
const kills = asked || 3, ends = asked || 10;
const setsMost = 9;
const endWithinMs = 1500;

// --- in the page ---------------------------------------------------------------------------------------------------------

// Everything below runs in the page, in both browsers alike.
const inPage = {
  ready: () => document.querySelector('#mirror[data-frames]') !== null &&
    !document.getElementById('mirror').textContent.includes('Opening') &&
    typeof window.slipwayTest === 'function',  // a file of its own, which may come after the first frame

  start: async () => {
    const wait = (ms) => new Promise((done) => setTimeout(done, ms));
    const type = (label, value) => {
      const field = [...document.querySelectorAll('#mirror input')].find((one) => label.test(one.getAttribute('aria-label') || one.labels?.[0]?.textContent || ''));
      field.focus();
      field.value = value;
      field.dispatchEvent(new Event('input', { bubbles: true }));
      field.dispatchEvent(new Event('change', { bubbles: true }));
    };
    // Ended before the first set was kept, the swimmer may be here already.
    const begun = () => document.querySelector('#mirror [role=gridcell]') !== null;
    for (let i = 0; i < 400 && !begun() && document.querySelector('#mirror input') === null; i += 1) await wait(25);
    if (begun()) return true;
    type(/name/i, 'Wren');
    await wait(100);
    type(/year of birth/i, '1991');
    await wait(100);
    [...document.querySelectorAll('#mirror button, #mirror [role=button]')].find((one) => one.textContent.trim() === 'Start').click();
    for (let i = 0; i < 400 && !begun(); i += 1) await wait(25);
    return begun();
  },

  // Logs until the end of the page; `window.said` is what was called kept.
  logOn: () => {
    const kept = () => [...document.querySelectorAll('#said p')].filter((one) => /^Kept\. A\d round/.test(one.textContent)).map((one) => one.textContent);
    window.said = 0;
    let last = '';
    new MutationObserver(() => {
      const newest = kept().at(-1) || '';
      if (newest && newest !== last) window.said += 1;
      last = newest;
    }).observe(document.getElementById('said'), { subtree: true, childList: true, characterData: true });
    setInterval(() => {
      const key = [...document.querySelectorAll('#mirror button, #mirror [role=button]')].find((one) => /^Log (as written|one more)/.test(one.textContent.trim()));
      if (key) key.click();
    }, 20);
    return true;
  },

  said: () => window.said,
  sets: () => window.slipwayTest('sets'),
  findings: () => window.slipwayTest('findings'),
  endWorker: () => {
    window.slipwayWorker.terminate();
    return true;
  },
};

// --- the two browsers, one face ---------------------------------------------------------------------------------------------

const browsers = {
  chromium: async (profile) => {
    const browser = await browse({ profile, serviceWorkers: 'block' });
    return {
      goto: (address) => browser.page.goto(address),
      run: (code, ...given) => browser.page.evaluate(`(${code})(...${JSON.stringify(given)})`),
      kill: browser.kill,
      gone: browser.gone,
      stop: browser.stop,
    };
  },
  firefox,
};

function siteWithoutHandles() {
  const folder = siteCopy();
  const file = join(folder, 'store_place.js');
  writeFileSync(file, `delete FileSystemFileHandle.prototype.createSyncAccessHandle;\n${readFileSync(file, 'utf8')}`);
  return folder;
}

async function open(browser, address) {
  await browser.goto(`${address}?test=1`);
  await until('the app is there', () => browser.run(inPage.ready), { ms: 60000 });
}

// `end` ends the program; true: the browser lives on. A board has an end: after some sets another swimmer's store goes on.
async function crashes(own, kind, folder, loops, end, name) {
  const server = own(await serve(folder));
  let profile = newProfile(), browser = null;
  let kept = 0, total = 0, beyond = 0;
  const openAgain = async () => {
    browser = browser || own(await browsers[kind](profile));
    await open(browser, server.address);
    if (kept === 0) return;
    const found = await browser.run(inPage.sets);
    holds(found >= kept, `${found} sets are there, ${kept} were called kept`);
    equal(await browser.run(inPage.findings), '', 'findings of the check');
    beyond += found - kept;
    kept = found;
  };
  for (let loop = 1; loop <= loops; loop += 1) {
    await openAgain();
    if (kept === 0) holds(await browser.run(inPage.start), 'a swimmer is here');
    await browser.run(inPage.logOn);
    const until_ = Date.now() + Math.floor(Math.random() * endWithinMs);
    let said = 0;
    do {
      said = Math.max(said, await browser.run(inPage.said));
    } while (Date.now() < until_);
    if (!await end(browser)) browser = null;
    kept += said;
    total += said;
    if (kept >= setsMost) {
      await openAgain();
      await browser.stop();
      browser = null;
      profile = newProfile();
      kept = 0;
    }
  }
  await openAgain();
  note(`row 14  ${loops} ${name}, ${total} sets called kept, 0 lost, ${beyond} more there`);
}

async function killed(browser) {
  browser.kill();
  await browser.gone();
  return false;
}
async function workerEnded(browser) {
  await browser.run(inPage.endWorker);
  return true;
}

const kinds = hasFirefox ? ['chromium', 'firefox'] : ['chromium'];
for (const kind of kinds) {
  for (const [where, folder] of [['file handles', undefined], ['pages', siteWithoutHandles()]]) {
    journey(`${kind}, ${where}: killed ${kills} times while it keeps, it loses no set that it called kept`,
      (own) => crashes(own, kind, folder, kills, killed, `kills of ${kind} on ${where}`));
    journey(`${kind}, ${where}: its worker ended ${ends} times while it keeps, no set is lost`,
      (own) => crashes(own, kind, folder, ends, workerEnded, `ended workers of ${kind} on ${where}`));
  }
}

await runJourneys();
