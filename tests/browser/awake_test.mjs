// The screen stays on while a session is in hand; the end of a rest is heard and felt only after a hand was on the page, and
// as Setup says; a half changed set outlives a new version; numbers open the number pad; a bundle dropped on the page comes
// in; the page can be installed.
import { appendFileSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

import { App, before, browse, equal, holds, journey, root, runJourneys, serve, siteCopy, until } from './kit.mjs';

// A browser that counts what is asked of it, is slow to answer, and takes the lock back from a page that is hidden [Screen
// Wake Lock, 10: handling document loss of visibility].
const counting = () => {
  window.locks = { held: 0, asked: 0 };
  const all = new Set();
  const letGo = (lock) => {
    if (!all.delete(lock)) return;
    window.locks.held -= 1;
    lock.dispatchEvent(new Event('release'));
  };
  const request = async () => {
    window.locks.asked += 1;
    await new Promise((done) => setTimeout(done, 50));
    window.locks.held += 1;
    const lock = new EventTarget();
    all.add(lock);
    lock.release = async () => letGo(lock);
    return lock;
  };
  Object.defineProperty(navigator, 'wakeLock', { value: { request } });
  let hidden = false;
  Object.defineProperty(document, 'hidden', { get: () => hidden });
  window.hide = (isHidden) => {
    hidden = isHidden;
    document.dispatchEvent(new Event('visibilitychange'));
    if (hidden) all.forEach(letGo);
  };
};

async function counted(own) {
  const server = own(await serve());
  const browser = own(await browse());
  await browser.context.addInitScript(counting);
  const app = await App.at(browser.page, server.address);
  await app.start();
  return { app, locks: () => app.page.evaluate(() => window.locks.held), asked: () => app.page.evaluate(() => window.locks.asked) };
}

journey('the screen is held on from the first set to the end of the session, and not in another place', async (own) => {
  const { app, locks, asked } = await counted(own);
  equal(await locks(), 0, 'held before a set');
  await app.log();
  await app.keptAre(1);
  await until('held', async () => (await locks()) === 1);
  await app.place('Logbook');
  await until('let go', async () => (await locks()) === 0);
  await app.place('Session');
  await until('held again', async () => (await locks()) === 1);
  await app.page.reload();
  await app.firstFrame();
  await until('held by the page that was loaded again', async () => (await locks()) === 1);
  await app.finish(5);
  await until('let go at the end', async () => (await locks()) === 0);
  equal(await asked(), 1, 'times asked for since');
});

journey('a page that was hidden asks for the screen again when it is seen, once, and not after the session', async (own) => {
  const { app, locks, asked } = await counted(own);
  await app.log();
  await until('held', async () => (await locks()) === 1);
  await app.page.evaluate(() => window.hide(true));
  equal(await locks(), 0, 'the browser took it');
  equal(await asked(), 1, 'a hidden page does not ask');
  await app.page.evaluate(() => {  // back, away and back, quicker than the browser answers
    window.hide(false);
    window.hide(true);
    window.hide(false);
  });
  await until('held again', async () => (await locks()) === 1);
  await app.page.waitForTimeout(300);
  equal([await locks(), await asked()], [1, 2], 'one lock, asked for once');
  await app.finish(5);
  await until('let go at the end', async () => (await locks()) === 0);
  await app.page.evaluate(() => window.hide(true));
  await app.page.evaluate(() => window.hide(false));
  await app.page.waitForTimeout(300);
  equal([await locks(), await asked()], [0, 2], 'nothing to hold it on for');
});

// --- the end of a rest ---------------------------------------------------------------------------------

// Counts beeps and buzzes; a real one would be heard by nobody here. The test's own looking into the page counts as a touch for
// this browser, so that what it says of touches is said by the fingers alone.
const listening = () => {
  let touched = false;
  addEventListener('pointerdown', () => { touched = true; }, true);
  Object.defineProperty(navigator, 'userActivation', { value: { get hasBeenActive() { return touched; } } });
  window.heard = { beeps: 0, buzzes: 0 };
  Object.defineProperty(navigator, 'vibrate', { value: () => { window.heard.buzzes += 1; return true; } });
  const part = () => ({ frequency: {}, gain: {}, connect: (next) => next, start: () => { window.heard.beeps += 1; }, stop: () => {} });
  window.AudioContext = class {
    createOscillator() { return part(); }
    createGain() { return part(); }
  };
};

// A worker whose clock can be put forward from the page.
const forward = `{ const Real = Date; let by = 0;
  new BroadcastChannel('test clock').onmessage = ({ data }) => { by += data; };
  globalThis.Date = class extends Real {
    constructor(...from) { if (from.length) super(...from); else super(Real.now() + by); }
    static now() { return Real.now() + by; }
  }; }`;

// The rest that runs comes to its end: all but its last seconds are skipped.
async function restEnds(app) {
  const said = app.page.locator('#said p', { hasText: /^Go\. / });
  const before = await said.count();
  const left = await app.page.getByText(/(seconds?|minutes?) to go, at least/).first().textContent();
  const [, minutes = 0] = left.match(/(\d+) minutes? .*to go/) || [];
  const [, seconds = 0] = left.match(/(\d+) seconds? to go/) || [];
  const secondsLeft = 3;
  await app.page.evaluate((ms) => new BroadcastChannel('test clock').postMessage(ms), (Number(minutes) * 60 + Number(seconds) - secondsLeft) * 1000);
  await until('it is said', async () => (await said.count()) > before);
  await app.page.waitForTimeout(200);  // were there a second one, it would come now
  return app.page.evaluate(() => [window.heard.beeps, window.heard.buzzes]);
}

async function withEars(own) {
  const server = own(await serve());
  const browser = own(await browse({ serviceWorkers: 'block' }));
  await browser.context.addInitScript(listening);
  await before(browser.context, 'worker.js', forward);
  const app = await App.at(browser.page, server.address);
  await app.start();
  return { app, browser, server };
}

async function turnOff(app, what) {
  await app.place('Setup');
  if (await app.get('radiogroup', what).count() === 0) await app.press(/^Sound and buzz/);
  await app.get('radiogroup', what).getByRole('radio', { name: 'off', exact: true }).tap();
  await app.place('Session');
}

journey('the end of a rest beeps and buzzes once, as Setup says', async (own) => {
  const { app } = await withEars(own);
  await app.log();
  equal(await restEnds(app), [1, 1], 'beeps and buzzes');
  await turnOff(app, 'Beep');
  await app.log();
  equal(await restEnds(app), [1, 2], 'with the beep off');
  await turnOff(app, 'Buzz');
  await app.log();
  equal(await restEnds(app), [1, 2], 'with both off');
});

journey('a page that no hand has touched yet neither beeps nor buzzes, and complains of nothing', async (own) => {
  const { app, browser, server } = await withEars(own);
  await app.log();
  await app.keptAre(1);
  const untouched = await browser.context.newPage();
  await browser.page.close();
  const later = await App.at(untouched, server.address);
  equal(await restEnds(later), [0, 0], 'beeps and buzzes');
  await later.log();
  equal(await restEnds(later), [1, 1], 'after a touch');
  equal(browser.trouble, [], 'complaints of the browser');
});

// --- fields ----------------------------------------------------------------------------------------------

const pads = (page) => page.locator('#mirror input').evaluateAll((fields) => fields.map((field) => [field.getAttribute('aria-label'), field.inputMode]));

journey('what is a number opens the number pad, what is a name the letters', async (own) => {
  const server = own(await serve());
  const { page } = own(await browse());
  const app = await App.at(page, server.address);
  await app.get('button', 'Start').waitFor();
  equal(await pads(page), [['Name or nickname on this device', 'text'], ['Year of birth', 'decimal']], 'first run');
  await app.start();
  await app.press('Change');
  await app.get('spinbutton', 'Reps').waitFor();
  equal(await pads(page), [['Reps', 'numeric']], 'a set');
  await app.place('Setup');
  await app.press(/^Facts/);
  await app.get('button', 'Keep these facts').waitFor();
  // "2012-06" has a sign that no number pad has.
  equal(await pads(page), [['Name or nickname', 'text'], ['Year of birth, or year and month', 'text'], ['Body mass, kg', 'decimal']], 'facts');
});

journey('a name that is composed, as in scripts with more signs than keys, is the name that is kept', async (own) => {
  const server = own(await serve());
  const { page, context } = own(await browse());
  const app = await App.at(page, server.address);
  await app.get('textbox', /name/i).tap();
  const keys = await context.newCDPSession(page);
  for (const text of ['\u306d', '\u306d\u3053']) {
    await keys.send('Input.imeSetComposition', { text, selectionStart: text.length, selectionEnd: text.length });
    await app.digests();  // frames come and go meanwhile
    equal(await app.get('textbox', /name/i).inputValue(), text, 'what is being composed');
  }
  await keys.send('Input.insertText', { text: '\u732b' });
  await app.start('\u732b');
});

journey('a bundle dropped on the page comes in like one that was chosen', async (own) => {
  const server = own(await serve());
  const from = own(await browse());
  const sender = await App.at(from.page, server.address);
  await sender.start('Moth');
  await sender.log();
  await sender.keptAre(1);
  const bytes = [...readFileSync(await sender.handOver('Hand over'))];

  const to = own(await browse());
  const receiver = await App.at(to.page, server.address);
  await receiver.start('Marlo');
  await receiver.place('Exchange');
  await receiver.page.evaluate((all) => {
    const carried = new DataTransfer();
    carried.items.add(new File([new Uint8Array(all)], 'moth.slip'));
    document.body.dispatchEvent(new DragEvent('drop', { bubbles: true, cancelable: true, dataTransfer: carried }));
  }, bytes);
  await receiver.press('Take in moth.slip');  // it brings somebody else: asked about first
  await receiver.page.getByRole('listitem').filter({ hasText: 'moth.slip: new.' }).waitFor();
});

journey('the page says how it is installed: name, icons of the sizes they claim, its own scope', async (own) => {
  const server = own(await serve());
  const { page } = own(await browse());
  await App.at(page, server.address);
  const link = await page.locator('link[rel=manifest]').getAttribute('href');
  const manifest = await page.evaluate(async (address) => (await fetch(address)).json(), link);
  for (const field of ['name', 'short_name', 'id', 'start_url', 'scope', 'display', 'background_color', 'theme_color'])
    holds(manifest[field], `the manifest has ${field}`);
  equal(manifest.display, 'standalone', 'display');
  for (const size of [192, 512]) {
    const icon = manifest.icons.find((one) => one.sizes === `${size}x${size}`);
    holds(icon && /any/.test(icon.purpose) && /maskable/.test(icon.purpose), `an icon of ${size}`);
    // A PNG says its size in bytes 16 to 23 [PNG specification, 11.2.2 IHDR].
    const png = readFileSync(join(root, 'wasm-shell/web', icon.src));
    equal([png.readUInt32BE(16), png.readUInt32BE(20)], [size, size], `${icon.src} is as large as it says`);
  }
});

await runJourneys();
