// The screen stays on while a session is in hand; a bundle dropped on the page comes in; the page can be installed.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

import { App, browse, equal, holds, journey, root, runJourneys, serve, until } from './kit.mjs';

// A browser that counts: what was asked of it, and what was let go.
const counting = () => {
  window.locks = { held: 0, asked: 0 };
  const request = async () => {
    window.locks.held += 1;
    window.locks.asked += 1;
    const lock = new EventTarget();
    lock.release = async () => { window.locks.held -= 1; };
    return lock;
  };
  Object.defineProperty(navigator, 'wakeLock', { value: { request } });
};

journey('the screen is held on from the first set to the end of the session, and not in another place', async (own) => {
  const server = own(await serve());
  const browser = own(await browse());
  await browser.context.addInitScript(counting);
  const app = await App.at(browser.page, server.address);
  const locks = () => app.page.evaluate(() => window.locks.held);
  await app.start();
  equal(await locks(), 0, 'held before a set');
  await app.log();
  await app.keptAre(1);
  await until('held', async () => (await locks()) === 1);
  await app.place('Logbook');
  await until('let go', async () => (await locks()) === 0);
  await app.place('Session');
  await until('held again', async () => (await locks()) === 1);
  await app.finish(5);
  await until('let go at the end', async () => (await locks()) === 0);
  equal(await app.page.evaluate(() => window.locks.asked), 2, 'times asked for');
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
  await receiver.page.getByText(/moth\.slip/).first().waitFor();
  holds(await receiver.page.getByText(/new/).count() > 0, 'its entries are new');
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
