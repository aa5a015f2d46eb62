// Bundles in and out of the page: a broken one is refused by name and place and changes
// nothing; the untouched one is accepted in the same run.
import { readFileSync } from 'node:fs';
import { App, browse, command, equal, holds, journey, newStore, runJourneys, scratch, serve, until } from './kit.mjs';

async function device(own, address, name) {
  const browser = own(await browse());
  const app = await App.at(browser.page, address);
  if (name) await app.start(name);
  return { app, page: browser.page };
}

// A swimmer's three sets, as the file that the page hands over.
async function aBundle(own, address) {
  const { app } = await device(own, address, 'Wren');
  for (let round = 1; round <= 3; round += 1) {
    await app.log();
    await app.keptAre(round);
  }
  await app.place('Exchange');
  const file = await app.handOver('Hand over');
  const text = await app.handOver('Hand over as text');
  holds(!/wren/i.test(file.split('/').at(-1)), 'the name of the file holds nothing personal');
  return { file, text };
}

function broken(bytes) {
  const flipped = Buffer.from(bytes);
  flipped[Math.floor(flipped.length * 0.6)] ^= 1;
  return {
    'cut.slip': bytes.subarray(0, Math.floor(bytes.length * 0.7)),
    'flipped.slip': flipped,
    'holiday.jpg': Buffer.from('ffd8ffe000104a46494600010101', 'hex'),
    'empty.slip': Buffer.alloc(0),
  };
}

journey('a broken bundle is refused by name and place, and the untouched one is accepted', async (own) => {
  const server = own(await serve());
  const { file } = await aBundle(own, server.address);
  const bytes = readFileSync(file);
  const { app, page } = await device(own, server.address, 'Moth');
  await app.log();
  await app.keptAre(1);
  await app.place('Exchange');
  const before = await app.digests();
  holds(/^[0-9a-f]{64} [0-9a-f]{64}$/.test(before), `two digests: ${before}`);

  for (const [name, content] of Object.entries(broken(bytes))) {
    await app.takeIn(scratch(name, content));
    const row = page.getByRole('listitem').filter({ hasText: `${name}: refused.` });
    await row.first().waitFor();
    const sentence = await row.first().textContent();
    holds(sentence.length > `${name}: refused. `.length + 10, `${name}: says why: ${sentence}`);
    equal(await app.digests(), before, `digests after ${name}`);
  }
  await app.said(/^Refused\./);

  await app.takeIn(scratch('whole.slip', bytes));
  equal(await app.digests(), before, 'somebody else in it: asked about first');
  await app.press(/^Take in .*whole\.slip$/);
  await page.getByRole('listitem').filter({ hasText: 'whole.slip: new.' }).waitFor();
  const after = await app.digests();
  holds(after !== before, 'what is new changes the digests');
  await app.takeIn(scratch('again.slip', bytes));
  await page.getByRole('listitem').filter({ hasText: 'again.slip: already here.' }).waitFor();
  equal(await app.digests(), after, 'digests after the same file again');
});

journey('several files at once, and the text form, taken in at first run', async (own) => {
  const server = own(await serve());
  const { file, text } = await aBundle(own, server.address);
  const { app, page } = await device(own, server.address, '');
  await app.takeIn([scratch('a.slip', readFileSync(file)), scratch('b.txt', readFileSync(text))]);
  await app.get('tab', 'Exchange').waitFor();
  await app.place('Exchange');
  await page.getByRole('listitem').filter({ hasText: 'b.txt: already here.' }).waitFor();
  await page.getByRole('listitem').filter({ hasText: 'a.slip: new.' }).waitFor();
  await app.place('Session');
  await app.keptAre(3);
});

journey('a file that is dropped on the page is taken in', async (own) => {
  const server = own(await serve());
  const { file } = await aBundle(own, server.address);
  const { app, page } = await device(own, server.address, '');
  const bytes = readFileSync(file).toString('base64');
  await page.evaluate((base64) => {
    const data = new DataTransfer();
    data.items.add(new File([Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0))], 'dropped.slip'));
    document.getElementById('mirror').dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
  }, bytes);
  await page.getByRole('listitem').filter({ hasText: 'dropped.slip: new.' }).waitFor();
  await app.place('Session');
  await app.keptAre(3);
});

journey('thirty files that are dropped at once are each taken in or refused, and one bad one keeps none of them out', async (own) => {
  const server = own(await serve());
  const desk = newStore('desk-of-thirty');
  const files = [];
  command(desk, 'athlete', 'add', 'Wren', '--born', '1991');
  for (let i = 1; i <= 30; i += 1) {
    command(desk, 'log', 'Wren', '--reps', '8', '--round', String(i));
    const path = scratch(`of-thirty-${i}.slip`, '');
    command(desk, 'bundle', 'make', '--replace', '--out', path);
    files.push([`of-thirty-${i}.slip`, readFileSync(path)]);
  }
  files[11][1][files[11][1].length >> 1] ^= 1;
  files.reverse();  // the newest first, as a folder may give them
  const { app, page } = await device(own, server.address, '');
  await page.evaluate((all) => {
    const data = new DataTransfer();
    for (const [name, base64] of all) data.items.add(new File([Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0))], name));
    document.getElementById('mirror').dispatchEvent(new DragEvent('drop', { dataTransfer: data, bubbles: true, cancelable: true }));
  }, files.map(([name, bytes]) => [name, bytes.toString('base64')]));
  await app.get('tab', 'Exchange').waitFor();
  await app.place('Exchange');
  const results = page.getByRole('listitem').filter({ hasText: 'of-thirty-' });
  await until('all thirty are answered for', async () => (await results.count()) === 30, { ms: 60000 });
  const words = await results.allTextContents();
  equal([words.filter((row) => /: new\./.test(row)).length, words.filter((row) => /: already here\./.test(row)).length,
    words.filter((row) => /of-thirty-12\.slip: refused/.test(row)).length], [1, 28, 1], 'new, known and refused');
  equal((await app.digests()).split(' ')[0], command(desk, 'check').digests.ops, 'the same entries as at the desk');
});

journey('a share sheet that is closed hands nothing over, and the app says so; one that is used counts', async (own) => {
  const server = own(await serve());
  const browser = own(await browse());
  // A phone's share sheet: the person closes the first one.
  await browser.context.addInitScript(() => {
    const coarse = window.matchMedia.bind(window);
    window.matchMedia = (query) => (query === '(pointer: coarse)' ? { matches: true, addEventListener: () => {} } : coarse(query));
    let shown = 0;
    navigator.canShare = () => true;
    navigator.share = ({ files }) => {
      shown += 1;
      window.shared = files.map(({ name }) => name);
      return shown === 1 ? Promise.reject(new DOMException('closed', 'AbortError')) : Promise.resolve();
    };
  });
  const app = await App.at(browser.page, server.address);
  await app.start('Wren');
  await app.log();
  await app.keptAre(1);
  await app.place('Exchange');
  await app.press('Hand over');
  await app.said('Not handed over. Nothing has left this device.');
  await app.page.locator('#mirror').getByText('last: not yet').first().waitFor({ state: 'attached' });
  await app.press('Hand over');
  await app.said('Bundle handed over.');
  await until('the time is there', async () => (await app.page.locator('#mirror').getByText('last: not yet').count()) === 0);
  holds((await app.page.evaluate(() => window.shared))[0].endsWith('.slip'), 'a bundle was shared');
});

await runJourneys();
