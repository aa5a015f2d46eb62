// The browser's files keep what host::Files and the store promise, in file handles and in pages of IndexedDB, in Chromium
// and in Firefox: the same lists as for the twins in memory and the files of this computer, inside a worker.
import { cpSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { browse, equal, holds, journey, newProfile, note, root, runJourneys, serve, until } from './kit.mjs';
import { firefox, hasFirefox } from './firefox.mjs';

const build = resolve(root, process.env.SLIPWAY_WASM_TESTS || 'build/wasm-tests');

// page_store.js as the app has it, beside the program of promises and a page with nothing on it.
function site() {
  const folder = newProfile();
  cpSync(join(root, 'wasm-shell/web/page_store.js'), join(folder, 'page_store.js'));
  for (const name of ['files_program.js', 'files_program.wasm']) cpSync(join(build, name), join(folder, name));
  cpSync(join(root, 'tests/wasm-shell/files_worker.js'), join(folder, 'files_worker.js'));
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>files</title>');
  return folder;
}

const inPage = (kind) => new Promise((done, failed) => {
  const worker = new Worker('files_worker.js', { type: 'module', name: kind });
  worker.onmessage = ({ data }) => done(data);
  worker.onerror = (event) => failed(new Error(event.message || 'the worker did not start'));
});

const browsers = {
  chromium: async (own) => {
    const app = own(await browse());
    return { goto: (address) => app.page.goto(address), run: (code, given) => app.page.evaluate(code, given) };
  },
  firefox: async (own) => own(await firefox(newProfile())),
};

for (const browser of hasFirefox ? ['chromium', 'firefox'] : ['chromium']) {
  for (const [kind, where] of [['handles', 'file handles'], ['pages', 'pages of IndexedDB']]) {
    journey(`${browser}: ${where} keep every promise of the outside and of the store, also after they are opened again`, async (own) => {
      const server = own(await serve(site()));
      const at = await browsers[browser](own);
      await at.goto(server.address);
      await until('the page is there', () => at.run(() => document.title === 'files'));
      const told = await at.run(inPage, kind);
      if (told.trouble) throw new Error(told.trouble);
      equal(told.answers.filter(({ broken }) => broken).map(({ name, broken }) => `${name}: ${broken}`), [], 'broken promises');
      holds(told.answers.length > 25 && told.answers.some(({ bytes }) => bytes > 16384), 'the lists are there, and the files were written');
      equal(told.weak, [], 'transactions that write without asking to last');
      note(`row 14  ${told.answers.length} promises of files and store held inside ${browser} on ${where}`);
    });
  }
}

await runJourneys();
