// A browser without synchronous file handles: the store lives page by page in IndexedDB. "Kept" is said when the
// transaction is over and never before; what it refuses stays on the screen; and a browser that learns handles later
// loses nothing.
import { App, before, browse, equal, holds, journey, newProfile, runJourneys, serve, until } from './kit.mjs';

const withoutHandles = (context) => before(context, 'store_place.js', 'delete FileSystemFileHandle.prototype.createSyncAccessHandle;');

async function opened(own, { profile, prepare = withoutHandles } = {}) {
  const server = own(await serve());
  const browser = own(await browse({ profile, serviceWorkers: 'block' }));
  await prepare(browser.context);
  const app = await App.at(browser.page, server.address);
  return { app, page: browser.page, browser, server };
}

const inPages = async (app) => {
  await app.port();
  return app.page.evaluate(() => window.slipwayTest('pages'));
};

journey('without file handles entries are kept in pages, and are there after a reload', async (own) => {
  const { app, page, browser } = await opened(own);
  holds(await inPages(app), 'the store is in pages');
  await app.start();
  await app.log();
  await app.keptAre(1);
  await app.said(/^Kept\. A1 round 1/);
  await app.log();
  await app.keptAre(2);
  const before = await app.digests();
  await page.reload();
  await app.firstFrame();
  await app.keptAre(2);
  equal(await app.digests(), before, 'the same record');
  holds(!(await page.getByText('copied or restored').count()), 'the store knows itself again');
  holds(!(await page.getByText('This window forgets').count()), 'and promises what it keeps');
  equal(browser.trouble, [], 'errors of the page');
});

const notKept = async (app) => (await app.cells()).filter((name) => name.endsWith('not kept yet')).length;
const keeping = async (app) => (await app.cells()).filter((name) => name.endsWith(', keeping')).length;

// The worker's transactions end when the test says so.
const slowly = `{
  const ends = Object.getOwnPropertyDescriptor(IDBTransaction.prototype, 'oncomplete');
  const held = [];
  let holds = false;
  Object.defineProperty(IDBTransaction.prototype, 'oncomplete', { set(heard) {
    ends.set.call(this, (event) => (holds ? held.push(() => heard(event)) : heard(event)));
  } });
  const port = new BroadcastChannel('slow storage');
  port.onmessage = ({ data }) => {
    holds = data === 'hold';
    if (!holds) held.splice(0).forEach((end) => end());
  };
}`;
const storage = (page, word) => page.evaluate((said) => new BroadcastChannel('slow storage').postMessage(said), word);

journey('an entry is called kept when its transaction is over, and not before', async (own) => {
  const { app, page } = await opened(own, { prepare: async (context) => {
    await withoutHandles(context);
    await before(context, 'page_store.js', slowly);
  } });
  await app.start();
  await app.log();
  await app.keptAre(1);
  await storage(page, 'hold');
  await app.log();
  await until('the second is being kept', async () => (await keeping(app)) === 1);
  await page.waitForTimeout(500);
  equal([await app.kept(), await notKept(app)], [1, 0], 'kept and not kept meanwhile');
  equal(await page.getByRole('status').textContent(), 'Keeping', 'the kept mark claims nothing');
  holds(!(await page.locator('#said').textContent()).includes('A2 round 1'), 'nothing is said of it');
  await app.log();  // and logging goes on
  await until('two are being kept', async () => (await keeping(app)) === 2);
  await storage(page, 'go on');
  await app.keptAre(3);
  await app.said(/^Kept\. A3 round 1/);
});

async function refusedThenKept(app, page, title, giveRoom) {
  await app.log();
  await page.getByText(title).first().waitFor();
  await until('one is not kept', async () => (await notKept(app)) === 1);
  await app.said(/^1 set not kept$/);
  await app.log();
  await until('two are not kept', async () => (await notKept(app)) === 2);
  equal(await app.kept(), 1, 'sets called kept');
  await app.press('Try again');  // still refused
  await app.digests();
  await until('two are not kept', async () => (await notKept(app)) === 2);
  // What was not called kept is not there for another start of the page, and what was is.
  await giveRoom();
  await app.press('Try again');
  await app.keptAre(3);
  await page.getByText(title).first().waitFor({ state: 'detached' });
  await page.reload();
  await app.firstFrame();
  await app.keptAre(3);
}

journey('a transaction that is refused: not kept, on the screen, and kept when there is room', async (own) => {
  const { app, page } = await opened(own);
  await app.start();
  await app.log();
  await app.keptAre(1);
  await app.refuse('QuotaExceededError');
  await refusedThenKept(app, page, 'Not kept: the storage is full', () => app.refuse(''));
});

// The browser's own limit, not the test port. It looks at it anew only when it starts.
journey('a site that runs out of room says so, keeps what it had, and goes on when there is room', async (own) => {
  const profile = newProfile();
  const first = await opened(own, { profile });
  await first.app.start();
  await first.app.log();
  await first.app.keptAre(1);
  await first.browser.stop();
  const { context, page } = own(await browse({ profile, serviceWorkers: 'block' }));
  await withoutHandles(context);
  const session = await context.newCDPSession(page);
  const origin = new URL(first.server.address).origin;
  await page.goto(`${first.server.address}style.css`);
  const { usage } = await session.send('Storage.getUsageAndQuota', { origin });
  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: usage + 60000 });
  const app = await App.at(page, first.server.address);
  await app.keptAre(1);
  const full = page.getByText('Not kept: the storage is full').first();
  let logged = 1;
  for (; logged < 9 && !(await full.count()); logged += 1) {
    await app.log();
    await until('it is kept or not', async () => (await keeping(app)) === 0);
  }
  await full.waitFor();
  await until('what was refused shows a drop', async () => (await notKept(app)) >= 1 && (await keeping(app)) === 0);
  const kept = await app.kept();
  holds(kept >= 1, `${kept} are kept`);
  await page.reload();
  await app.firstFrame();
  await app.keptAre(kept);
  await session.send('Storage.overrideQuotaForOrigin', { origin });
  await until('there is room again', async () => {
    await app.log();
    await until('it is kept or not', async () => (await keeping(app)) === 0);
    if (await full.count()) await app.press('Try again');
    return (await app.kept()) > kept && !(await full.count());
  }, { ms: 60000 });
});

journey('an entry whose transaction was refused is not there after a reload, and nothing else is missing', async (own) => {
  const { app, page } = await opened(own);
  await app.start();
  await app.log();
  await app.keptAre(1);
  await app.refuse('UnknownError');
  await app.log();
  await page.getByText('Not kept: the storage does not answer').first().waitFor();
  await page.reload();
  await app.firstFrame();
  await app.keptAre(1);
  equal(await notKept(app), 0, 'sets that wait');
});

journey('two windows on pages: taking over lets the first write no more', async (own) => {
  const { app, browser, server } = await opened(own);
  await app.start();
  await app.log();
  await app.keptAre(1);
  const second = await App.at(await browser.context.newPage(), server.address);
  await second.page.getByRole('heading', { name: 'Open in another window', level: 1 }).waitFor();
  await second.press('Take over here');
  await second.keptAre(1);
  await app.page.getByRole('heading', { name: 'Taken over by another window', level: 1 }).waitFor();
  await second.log();
  await second.keptAre(2);
  await app.page.bringToFront();
  await app.press('Take over here');
  await app.keptAre(2);
  holds(!(await app.page.getByText('copied or restored').count()), 'it is the same store, opened by turns');
});

journey('a browser that learns file handles finds its entries there, and goes on as the same device', async (own) => {
  const profile = newProfile();
  const first = await opened(own, { profile });
  await first.app.start();
  await first.app.log();
  await first.app.keptAre(1);
  const digests = await first.app.digests();
  await first.browser.stop();
  await first.server.stop();

  const port = new URL(first.server.address).port;
  const server = own(await serve(undefined, port));
  equal(server.address, first.server.address, 'the same site');
  const browser = own(await browse({ profile, serviceWorkers: 'block' }));
  const app = await App.at(browser.page, server.address);
  holds(!await inPages(app), 'the store is in file handles now');
  await app.keptAre(1);
  equal(await app.digests(), digests, 'the same record');
  holds(!(await browser.page.getByText('copied or restored').count()), 'the store knows itself again');
  const left = await browser.page.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name));
  holds(!left.includes('slipway pages'), `nothing stays behind: ${left}`);
  await app.log();
  await app.keptAre(2);
});

journey('two stores found in one browser become one, and nothing is lost', async (own) => {
  const profile = newProfile();
  const server = own(await serve());
  const visit = async (prepare, work) => {
    const browser = own(await browse({ profile, serviceWorkers: 'block' }));
    await prepare(browser.context);
    const app = await App.at(browser.page, server.address);
    await work(app, browser.page);
    await browser.stop();
  };
  await visit(() => {}, async (app) => {
    await app.start('Wren');
    await app.log();
    await app.keptAre(1);
  });
  // The browser loses its handles: that a store was here and is out of reach is said.
  await visit(withoutHandles, async (app, page) => {
    await app.start('Otter');
    await page.getByText('The browser has cleared the data').first().waitFor();
    await app.log();
    await app.said(/^Kept\. A1 round 1/);
    await app.log();
    await app.said(/^Kept\. A2 round 1/);
  });
  await visit(() => {}, async (app, page) => {
    await page.getByText('Older storage of this browser').first().waitFor();
    await page.getByText(/new, \d+ already here/).first().waitFor();
    await app.place('Session');
    await app.keptAre(1);
    holds(!(await page.getByText('copied or restored').count()), 'the store knows itself again');
    const left = await page.evaluate(async () => (await indexedDB.databases()).map(({ name }) => name));
    holds(!left.includes('slipway pages'), `nothing stays behind: ${left}`);
    await page.reload();
    await app.firstFrame();
    await app.keptAre(1);
  });
});

journey('a store that a newer version wrote is looked at, never written, and knows itself again afterwards', async (own) => {
  const profile = newProfile();
  const server = own(await serve());
  const visit = async (work) => {
    const browser = own(await browse({ profile, serviceWorkers: 'block' }));
    await work(await App.at(browser.page, server.address), browser.page);
    await browser.stop();
  };
  // SQLite's user_version, where the form of the store stands: bytes 60 to 63 of the file [its file format page].
  const form = (page, number) => page.evaluate(async (form_) => {
    const folder = await navigator.storage.getDirectory();
    const writing = await (await folder.getFileHandle('slipway.db')).createWritable({ keepExistingData: true });
    await writing.write({ type: 'write', position: 60, data: new Uint8Array([0, 0, 0, form_]) });
    await writing.close();
  }, number);
  const ownForm = (page) => page.evaluate(async () => {
    const folder = await navigator.storage.getDirectory();
    return new Uint8Array(await (await (await folder.getFileHandle('slipway.db')).getFile()).arrayBuffer())[63];
  });
  const away = (page) => page.goto(`${server.address}manifest.webmanifest`);
  let now = 0;
  await visit(async (app, page) => {
    await app.start('Wren');
    await app.log();
    await app.keptAre(1);
    await away(page);
    now = await until('the files are let go', () => ownForm(page));
    await until('it is written', () => form(page, 99).then(() => true));
  });
  await visit(async (app, page) => {
    await page.getByText('Written by a newer Slipway').first().waitFor();
    await app.keptAre(1);
    await away(page);
    await until('it is written', () => form(page, now).then(() => true));
  });
  await visit(async (app, page) => {
    await app.keptAre(1);
    holds(!(await page.getByText('copied or restored').count()), 'the store knows itself again');
    await app.log();
    await app.keptAre(2);
  });
});

journey('a window that perhaps forgets says so, and keeps what it can meanwhile', async (own) => {
  const { app, page } = await opened(own, { prepare: (context) => before(context, 'store_place.js',
    'navigator.storage.getDirectory = () => Promise.reject(new DOMException("", "SecurityError"));') });
  await app.start();
  await page.getByText('This window forgets').first().waitFor();
  await app.log();
  await app.get('gridcell', /round 1: 8 at 8 kilograms/).waitFor();
  equal(await page.getByRole('status').textContent(), 'this visit only', 'the kept mark claims nothing');
  await page.reload();
  await app.firstFrame();
  await app.get('gridcell', /round 1: 8 at 8 kilograms/).waitFor();
});

await runJourneys();
