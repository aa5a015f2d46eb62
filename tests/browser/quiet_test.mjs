// Nothing moves, nothing is asked of the network, and a lost picture comes back.
import { App, browse, equal, holds, journey, newProfile, note, runJourneys, serve, until } from './kit.mjs';

const idleMs = 10000;

async function opened(own) {
  const server = own(await serve());
  const browser = own(await browse());
  const app = await App.at(browser.page, server.address);
  return { app, page: browser.page, browser, server };
}

// Waits until the last movement (a key coming up, the app's own tidying) is over.
async function still(app) {
  let last = -1;
  await until('still water', async () => {
    const now = await app.frames();
    const same = now === last;
    last = now;
    return same;
  }, { every: 1000 });
}

async function aFinishedSession(app) {
  await app.log();
  await app.keptAre(1);
  await app.finish(5);
}

journey('no frame is drawn in ten idle seconds, before and after a session', async (own) => {
  const { app } = await opened(own);
  for (const act of [() => app.start(), () => aFinishedSession(app)]) {
    const drawn = await app.frames();
    await act();
    await still(app);
    const before = await app.frames();
    holds(before > drawn, `what is done is drawn and counted: ${drawn}, then ${before}`);
    await new Promise((done) => setTimeout(done, idleMs));
    equal(await app.frames(), before, 'frames after ten idle seconds');
  }
});

journey('while somebody rests, one frame is drawn a second', async (own) => {
  const { app, page } = await opened(own);
  await app.start();
  await app.log();
  await app.keptAre(1);
  await page.waitForTimeout(1500);  // the key has come up
  const before = await app.frames();
  await page.waitForTimeout(5000);
  const drawn = (await app.frames()) - before;
  holds(drawn >= 3 && drawn <= 7, `frames in five seconds of rest: ${drawn}`);
});

journey('no request leaves the page but for the app\'s own files, and none after it has loaded', async (own) => {
  const server = own(await serve());
  const browser = own(await browse());
  const asked = [];
  browser.context.on('request', (request) => asked.push(request.url()));
  const app = await App.at(browser.page, server.address, '');
  await app.offline();
  const foreign = asked.filter((url) => !url.startsWith(server.address));
  equal(foreign, [], 'requests to elsewhere');
  holds(asked.length > 8, `requests are seen at all (${asked.length})`);
  const loaded = asked.length;
  await app.start();
  await app.log();
  await app.keptAre(1);
  await app.place('Exchange');
  await app.handOver('Hand over');
  await app.place('Setup');
  equal(asked.slice(loaded).filter((url) => !url.startsWith('blob:')), [], 'requests after the load');
  equal(browser.trouble, [], 'the page\'s own policy let everything through');
});

journey('the app opens with the server gone', async (own) => {
  const server = await serve();
  const profile = newProfile();
  const first = own(await browse({ profile }));
  const app = await App.at(first.page, server.address);
  await app.offline();
  await app.start();
  await app.log();
  await app.keptAre(1);
  await first.stop();
  await server.stop();
  const again = own(await browse({ profile }));
  const later = await App.at(again.page, server.address, '');
  await later.keptAre(1);
  const ms = await again.page.evaluate(() => performance.getEntriesByName('first frame')[0].startTime);
  note(`first frame from the service worker, browser just started: ${ms.toFixed(0)} ms`);
});

// The picture as bytes, taken by the browser from outside the page.
const picture = (page) => page.screenshot().then((png) => png.toString('base64'));

journey('a lost graphics context comes back with the same picture', async (own) => {
  const { app, page } = await opened(own);
  await app.start();
  await still(app);
  const before = await picture(page);
  const frames = await app.frames();
  await page.evaluate(() => window.slipwayTest('lose context'));
  await until('drawn again', async () => (await app.frames()) > frames);
  await until('the same picture', async () => (await picture(page)) === before);
  await app.log();
  await app.keptAre(1);
  await until('a new picture', async () => (await picture(page)) !== before);
});

await runJourneys();
