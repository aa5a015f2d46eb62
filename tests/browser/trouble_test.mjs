// Storage that is full, refuses or is not there: nothing typed is lost, and nothing is
// called kept that is not.
import { App, before, browse, equal, holds, journey, look, newProfile, runJourneys, serve, until } from './kit.mjs';

async function opened(own) {
  const server = own(await serve());
  const browser = own(await browse());
  const app = await App.at(browser.page, server.address);
  await app.start();
  return { app, page: browser.page, browser, server };
}

const notKept = async (app) => (await app.cells()).filter((name) => name.endsWith('not kept yet')).length;

async function waitsThenIsKept(app, page, title, giveRoom) {
  await app.log();
  await page.getByText(title).first().waitFor();
  equal(await notKept(app), 1, 'sets that wait');
  await app.said(/^Not kept yet\. A2 round 1/);
  // Logging goes on, in order.
  await app.log();
  await until('two wait', async () => (await notKept(app)) === 2);
  equal(await app.kept(), 1, 'sets called kept');
  const bundle = look(await app.handOver('Hand over by file'));
  equal(bundle.sets.map((set) => set.exercise), ['SQ4', 'VP4', 'PU3'], 'the bundle has what waits, too');

  await app.press('Try again');  // still no room
  await app.digests();           // the press is done
  await until('two still wait', async () => (await notKept(app)) === 2);
  await giveRoom();
  await app.press('Try again');
  await app.keptAre(3);
  await page.getByText(title).first().waitFor({ state: 'detached' });
  await page.reload();
  await app.firstFrame();
  await app.keptAre(3);
}

journey('a full storage: the entry stays on the screen, travels in the bundle, and is kept when there is room', async (own) => {
  const { app, page } = await opened(own);
  await app.log();
  await app.keptAre(1);
  await app.refuse('QuotaExceededError');
  await waitsThenIsKept(app, page, 'Not kept: the storage is full', () => app.refuse(''));
});

journey('a storage that refuses: the same, with its own words', async (own) => {
  const { app, page } = await opened(own);
  await app.log();
  await app.keptAre(1);
  await app.refuse('InvalidStateError');
  await waitsThenIsKept(app, page, 'Not kept: the storage does not answer', () => app.refuse(''));
});

journey('a page that holds what is not kept asks before it closes; once all is kept it asks nobody', async (own) => {
  const { app, page } = await opened(own);
  await app.log();
  await app.keptAre(1);
  await app.refuse('QuotaExceededError');
  await app.log();
  await page.getByText('Not kept: the storage is full').first().waitFor();
  const asks = page.waitForEvent('dialog');
  await page.close({ runBeforeUnload: true });
  const dialog = await asks;
  equal(dialog.type(), 'beforeunload', 'what asks');
  await dialog.dismiss();
  equal(await notKept(app), 1, 'sets that wait, still there');
  await app.refuse('');
  await app.press('Try again');
  await app.keptAre(2);
  let asked = false;
  page.on('dialog', (again) => { asked = true; again.accept(); });
  await page.goto('about:blank');
  holds(!asked, 'it asks nobody once all is kept');
});

journey('a browser that keeps nothing: said at once, and the bundle is offered', async (own) => {
  const server = own(await serve());
  const browser = own(await browse());
  // What a private window of some browsers answers.
  await before(browser.context, 'store_place.js',
    'navigator.storage.getDirectory = () => Promise.reject(new DOMException("", "SecurityError"));');
  const app = await App.at(browser.page, server.address);
  await app.start();
  await browser.page.getByText('This window forgets').first().waitFor();
  await app.log();
  await app.get('gridcell', /round 1: 8 at 8 kilograms/).waitFor();
  equal((await browser.page.getByRole('status').textContent()), 'this visit only', 'the kept mark claims nothing');
  const bundle = look(await app.handOver('Hand over by file'));
  equal(bundle.sets.length, 1, 'sets handed over');
});

// The browser's own limit, not the test port.
journey('a site without any room says so, and opens when there is room', async (own) => {
  const server = own(await serve());
  const { context, page } = own(await browse());
  const session = await context.newCDPSession(page);
  const origin = new URL(server.address).origin;
  await session.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
  const app = await App.at(page, server.address);
  await page.getByRole('heading', { name: 'The store will not open', level: 1 }).waitFor();
  await page.getByText('the storage is full').first().waitFor();
  await app.press('Try again');
  await app.digests();  // the trying is over
  await page.getByRole('heading', { name: 'The store will not open', level: 1 }).waitFor();
  await session.send('Storage.overrideQuotaForOrigin', { origin });
  await app.press('Try again');
  await app.start();
  await app.log();
  await app.keptAre(1);
});

journey('a program that can not be loaded: the page says so', async (own) => {
  const server = own(await serve());
  const { context, page } = own(await browse());
  await context.route('**/slipway.wasm', (route) => route.fulfill({ status: 200, contentType: 'application/wasm', body: 'not a program' }));
  await page.goto(server.address);
  await page.getByRole('alert').filter({ hasText: 'Slipway stopped.' }).waitFor();
});

journey('without WebGL the mirror itself is seen and everything works', async (own) => {
  const server = own(await serve());
  const browser = own(await browse());
  await before(browser.context, 'worker.js', 'OffscreenCanvas.prototype.getContext = () => null;');
  const app = await App.at(browser.page, server.address);
  await browser.page.locator('html.no-picture').waitFor();
  await app.start();
  const colour = await app.get('button', 'Change').evaluate((element) => getComputedStyle(element).color);
  holds(colour !== 'rgba(0, 0, 0, 0)', `letters of a key are seen: ${colour}`);
  await app.log();
  await app.keptAre(1);
});

await journey('a file that the browser cannot read is told by name, and the next one is looked at all the same', async (own) => {
  const { app, page } = await opened(own);
  await page.evaluate(() => {
    const { arrayBuffer } = Blob.prototype;
    Blob.prototype.arrayBuffer = function read() {
      return this.name === 'away.slip' ? Promise.reject(new DOMException('gone', 'NotFoundError')) : arrayBuffer.call(this);
    };
  });
  await app.place('Exchange');
  await app.takeIn([{ name: 'away.slip', mimeType: 'application/octet-stream', buffer: Buffer.from('x') },
    { name: 'other.slip', mimeType: 'application/octet-stream', buffer: Buffer.from('no bundle') }]);
  await page.getByText(/away\.slip: the file cannot be read/).first().waitFor();
  await page.getByText(/other\.slip/).first().waitFor();
});

journey('pages that are there and out of reach are not gone past: nothing opens beside them, and the next start has every set', async (own) => {
  const server = own(await serve());
  const profile = newProfile();
  const first = own(await browse({ profile, serviceWorkers: 'block' }));
  await before(first.context, 'store_place.js', 'delete FileSystemFileHandle.prototype.createSyncAccessHandle;');
  let app = await App.at(first.page, server.address);
  await app.start();
  await app.log();
  await app.keptAre(1);
  await first.stop();

  // It has handles now, and cannot read the pages once.
  const second = own(await browse({ profile, serviceWorkers: 'block' }));
  await before(second.context, 'page_store.js', `
    const openReally = IDBFactory.prototype.open;
    IDBFactory.prototype.open = function open(name, version) {
      if (name === 'slipway pages') throw new DOMException('out of reach', 'UnknownError');
      return openReally.call(this, name, version);
    };
  `);
  await App.at(second.page, server.address);
  await second.page.getByRole('button', { name: 'Try again' }).waitFor();
  await second.stop();

  const third = own(await browse({ profile, serviceWorkers: 'block' }));
  app = await App.at(third.page, server.address);
  await app.keptAre(1);
});

runJourneys();
