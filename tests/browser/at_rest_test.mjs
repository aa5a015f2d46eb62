// A swimmer sealed by a passphrase in the browser: nothing of them can be read in the storage, nothing is shown before the
// passphrase, and with it every set is there; in file handles and in pages of IndexedDB.
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

import { App, before, browse, command, equal, holds, journey, newProfile, newStore, runJourneys, serve } from './kit.mjs';

const passphrase = 'three wet towels';
const withoutHandles = (context) => before(context, 'store_place.js', 'delete FileSystemFileHandle.prototype.createSyncAccessHandle;');

async function type(app, label, text) {
  const field = app.page.getByRole('textbox', { name: label, exact: true });
  await field.fill(text);
  await field.press('Tab');
}

async function seal(app) {
  await app.place('Setup');
  await app.press(/^Passphrase/);
  await type(app, 'Passphrase', passphrase);
  await type(app, 'The passphrase once more', passphrase);
  await app.press('Seal');
  await app.said('Sealed. It is open until the app is closed.');
}

async function open(app, words) {
  await type(app, 'Passphrase', words);
  await app.press('Open');
}

// All that the browser keeps for the page in private files.
function privateFiles(folder, inside = false) {
  let all = '';
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) all += privateFiles(path, inside || entry.name === 'File System');
    else if (inside && entry.isFile()) all += readFileSync(path, 'latin1');
  }
  return all;
}

async function liveSealed(own, { handles }) {
  const server = own(await serve());
  const profile = newProfile();
  const first = own(await browse({ profile, serviceWorkers: 'block' }));
  if (!handles) await withoutHandles(first.context);
  let app = await App.at(first.page, server.address);
  await app.start('Wren');
  await app.log();
  await app.keptAre(1);
  if (handles) holds(privateFiles(profile).includes('SQ4'), 'before the seal it can be read');
  await seal(app);
  await app.place('Session');
  await app.log();
  await app.keptAre(2);
  const digests = await app.digests();
  await first.stop();
  if (handles) {
    const bytes = privateFiles(profile);
    holds(bytes.includes('Wren'), 'the store is looked at, and the name stays readable');
    for (const word of ['SQ4', 'VP4', 'PU3']) holds(!bytes.includes(word), `${word} can be read in the storage`);
  }

  const second = own(await browse({ profile, serviceWorkers: 'block' }));
  if (!handles) await withoutHandles(second.context);
  app = await App.at(second.page, server.address);
  await second.page.getByRole('heading', { name: 'Wren is sealed' }).waitFor();
  equal(await second.page.getByRole('tab').count(), 0, 'no place is open');
  await open(app, 'three dry towels');
  await second.page.getByText('That is not the passphrase. Nothing was opened.').first().waitFor();
  await open(app, passphrase);
  await app.keptAre(2);
  equal(await app.digests(), digests, 'the digests');
  await app.log();
  await app.keptAre(3);
  return { app, second };
}

journey('sealed in file handles: nothing but the name can be read there, and the passphrase brings every set back', async (own) => {
  const { app } = await liveSealed(own, { handles: true });
  await app.place('Exchange');
  const file = await app.handOver('Hand over');
  const coach = newStore('coach-of-a-sealed-one');
  equal(command(coach, 'bundle', 'merge', file).files[0].fresh_sets, 3, 'the coach has every set');
  equal(`${command(coach, 'check').digests.ops}`, (await app.digests()).split(' ')[0], 'the same entries');
});

journey('sealed in pages of IndexedDB: nothing is shown before the passphrase, and every set is there with it', async (own) => {
  const { app, second } = await liveSealed(own, { handles: false });
  await app.place('Setup');
  await app.press(/^Passphrase/);
  await app.press('Shut now');
  await second.page.getByRole('heading', { name: 'Wren is sealed' }).waitFor();
});

runJourneys();
