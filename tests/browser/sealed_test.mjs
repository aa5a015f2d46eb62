// Seals across the two builds: what the browser seals the desktop program opens, and the other way round; nothing in
// between reads a name or an entry, and a file that was changed on the way is refused.
import { readFileSync, writeFileSync } from 'node:fs';

import { App, browse, command, equal, holds, journey, newStore, runJourneys, scratch, serve, until } from './kit.mjs';

const passphrase = 'starting blocks at dawn';

async function device(own, server, name) {
  const browser = own(await browse());
  const app = await App.at(browser.page, server.address);
  await app.start(name);
  return app;
}

async function type(app, label, text) {
  const field = app.page.getByRole('textbox', { name: label, exact: true });
  await field.fill(text);
  await field.press('Tab');
}

// The results of Exchange, newest first, in words.
const results = (app) => app.page.locator('#mirror').evaluate((mirror) => mirror.textContent.replaceAll(/\s+/g, ' '));

function holdsNothingOf(file, words) {
  const bytes = readFileSync(file).toString('latin1');
  for (const word of words) holds(!bytes.includes(word), `${word} can be read from outside`);
}

journey('a swimmer in the browser takes in the squad file of a coach at the desk: what is handed over only the coach opens', async (own) => {
  const coach = newStore('coach-at-the-desk'), stranger = newStore('stranger');
  const words = scratch('words.txt', `${passphrase}\n`), squadFile = `${coach}/squad.slip`;
  command(coach, 'key', 'make', '--name', 'Heron', '--passphrase-file', words);
  command(coach, 'key', 'squad', '--out', squadFile);
  const server = own(await serve());
  const app = await device(own, server, 'Wren');
  await app.place('Exchange');
  await app.takeIn(squadFile);
  await app.page.getByText('What you hand over is sealed for Heron: nobody else can open it.').waitFor();
  await app.place('Session');
  await app.log();
  await app.keptAre(1);
  await app.place('Exchange');
  const file = await app.handOver('Hand over');
  holdsNothingOf(file, ['Wren', 'SQ4']);
  equal(command(stranger, 'bundle', 'merge', file).files[0].error.id, 'bundle.sealed_other', 'a stranger');
  equal(command(coach, 'bundle', 'merge', file).files[0].error.id, 'bundle.sealed_locked', 'without the passphrase');
  const merged = command(coach, 'bundle', 'merge', file, '--passphrase-file', words, '--from-unknown').files[0];
  equal([merged.refused, merged.envelope, merged.fresh_sets], [false, 'to_keys', 1], 'opened by the coach');
  const held = command(coach, 'check').digests;
  equal(`${held.ops} ${held.views}`, await app.digests(), 'the same entries, shown the same');
});

journey('a coach in the browser makes a key and hands out a squad file: what the desk seals for it opens there, changed bytes do not', async (own) => {
  const server = own(await serve());
  const app = await device(own, server, 'Heron');
  await app.place('Setup');
  await app.press(/^Who uses this device/);
  await app.get('radio', 'the coach').tap();
  await app.place('Session');
  await app.place('Setup');
  await app.press(/^Keys/);
  await type(app, 'Your name, as swimmers will read it', 'Heron');
  await type(app, 'Passphrase, three or four words', passphrase);
  await app.press('Make the key');
  await app.said("The coach's key is on this device.");
  const squadFile = await app.handOver('Hand out the squad file');
  const swimmer = newStore('swimmer-at-the-desk');
  command(swimmer, 'athlete', 'add', 'Otter', '--born', '1991');
  equal(command(swimmer, 'bundle', 'merge', squadFile).files[0].squad !== null, true, 'paired');
  command(swimmer, 'log', 'Otter', '--reps', '8');
  const sealed = scratch('sealed.slip', '');
  equal(command(swimmer, 'bundle', 'make', '--out', sealed, '--replace').envelope, 'to_keys', 'sealed');
  holdsNothingOf(sealed, ['Otter', 'SQ4']);
  const changed = readFileSync(sealed);
  changed[Math.floor(changed.length * 0.7)] ^= 1;
  const broken = scratch('broken.slip', '');
  writeFileSync(broken, changed);
  const before = await app.digests();
  await app.place('Exchange');
  await app.takeIn(broken);
  await until('the broken file is refused', async () => /broken\.slip.*refused/.test(await results(app)));
  equal(await app.digests(), before, 'nothing of it came in');
  await app.takeIn(sealed);
  await app.press(/^Take in .*sealed\.slip$/);
  await until('the sealed file is in', async () => (await app.digests()) !== before);
  await app.place('Squad');
  await app.page.getByText('Otter').first().waitFor();
});

await runJourneys();
