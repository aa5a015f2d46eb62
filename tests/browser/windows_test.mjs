// Two windows: one writes, the other says so, and taking over closes the first before.
import { App, browse, equal, holds, journey, runJourneys, serve, until } from './kit.mjs';

async function twoWindows(own) {
  const server = own(await serve());
  const browser = own(await browse());
  const first = await App.at(browser.page, server.address);
  await first.start();
  await first.log();
  await first.keptAre(1);
  const second = await App.at(await browser.context.newPage(), server.address);
  return { first, second, browser };
}

const heading = (app, name) => app.page.getByRole('heading', { name, level: 1 }).waitFor();

journey('a second window says that the store is open elsewhere, and takes over', async (own) => {
  const { first, second, browser } = await twoWindows(own);
  await heading(second, 'Open in another window');
  equal(await second.page.getByRole('button').count(), 1, 'keys of the second window');

  await second.press('Take over here');
  await second.keptAre(1);
  await heading(first, 'Taken over by another window');
  await second.log();
  await second.keptAre(2);

  // And back: what the second kept is there.
  await first.page.bringToFront();
  await first.press('Take over here');
  await first.keptAre(2);
  await heading(second, 'Taken over by another window');
  holds(!(await first.page.getByText('copied or restored').count()), 'it is the same store, opened by turns');
  equal(browser.trouble, [], 'errors of the pages');
});

journey('a window that does not answer is not waited for', async (own) => {
  const { first, second } = await twoWindows(own);
  await heading(second, 'Open in another window');
  await first.page.close();
  await second.press('Take over here');
  await second.keptAre(1);
});

journey('a window closed and opened again at once finds its store', async (own) => {
  const server = own(await serve());
  const browser = own(await browse());
  const app = await App.at(browser.page, server.address);
  await app.start();
  for (let round = 1; round <= 3; round += 1) {
    await app.log();
    await app.keptAre(round);
    await browser.page.reload();
    await app.firstFrame();
    await app.keptAre(round);
  }
});

await runJourneys();
