// Storage that is full, refuses or is not there: nothing typed is lost, and nothing is
// called kept that is not.
import { App, browse, equal, holds, journey, look, runJourneys, serve, until } from './kit.mjs';

async function opened(own, more) {
  const server = own(await serve());
  const browser = own(await browse(more));
  const app = await App.at(browser.page, server.address);
  await app.start();
  return { app, page: browser.page, browser, server };
}

const notKept = async (app) => (await app.cells()).filter((name) => name.endsWith('not kept yet')).length;

async function waitsThenIsKept(app, page, title, giveRoom) {
  await app.log();
  await page.getByText(title).first().waitFor();
  equal(await notKept(app), 1, 'sets that wait');
  await app.said(/^Not kept yet\. A1 round 2/);
  // Logging goes on, in order.
  await app.log();
  await until('two wait', async () => (await notKept(app)) === 2);
  equal(await app.kept(), 1, 'sets called kept');
  const bundle = look(await app.handOver('Hand over by file'));
  equal(bundle.sets.map((set) => set.round), [1, 2, 3], 'the bundle has what waits, too');

  await app.press('Try again');  // still no room
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

journey('a browser that keeps nothing: said at once, and the bundle is offered', async (own) => {
  const server = own(await serve());
  const browser = own(await browse());
  // What a private window of some browsers answers.
  await browser.context.route('**/store_place.js', async (route) => {
    const answer = await route.fetch();
    const refusing = 'navigator.storage.getDirectory = () => Promise.reject(new DOMException("", "SecurityError"));\n';
    await route.fulfill({ response: answer, body: refusing + await answer.text() });
  });
  const app = await App.at(browser.page, server.address);
  await app.start();
  await browser.page.getByText('This window forgets').first().waitFor();
  await app.log();
  await app.get('gridcell', /round 1: 8 at 8 kilograms/).waitFor();
  equal((await browser.page.getByRole('status').textContent()), 'this visit only', 'the kept mark claims nothing');
  const bundle = look(await app.handOver('Hand over by file'));
  equal(bundle.sets.length, 1, 'sets handed over');
});

await runJourneys();
