// Holds the browser's files against every promise, one after the other, each on empty files; after each the files are
// closed and opened again, and must hold what the program saw last. Started as 'handles' or 'pages' (files_test.mjs).
import FilesModule from './files_program.js';
import { PageStore } from './page_store.js';

const names = ['slipway.db', 'slipway.db-journal', 'slipway-before.db', 'slipway-ballast', 'promise.bin', 'promise.bin-journal'];

// Opened as store_place.js does, without what makes a window wait for another one.
const places = {
  handles: async () => {
    const folder = await navigator.storage.getDirectory();
    const files = [];
    for (const name of names) {
      const file = await folder.getFileHandle(name, { create: true });
      files.push({ name, handle: await file.createSyncAccessHandle() });
    }
    return { files, pages: null, close: async () => files.forEach(({ handle }) => handle.close()) };
  },
  pages: async () => {
    let settled = 0;
    const pages = await PageStore.open(names, () => { settled += 1; });
    return {
      files: pages.files, pages,
      close: async () => {
        await pages.close();
        if (pages.trouble) throw pages.trouble;
        if (settled !== pages.begun) throw new Error(`${pages.begun} batches begun, ${settled} told`);
      },
    };
  },
};

// Every transaction that writes asks to last before it is called complete.
const weak = [];
const transaction = IDBDatabase.prototype.transaction;
IDBDatabase.prototype.transaction = function (stores, mode, options) {
  if (mode === 'readwrite' && options?.durability !== 'strict') weak.push(String(stores));
  return transaction.call(this, stores, mode, options);
};

function bytesOf({ handle }) {
  const bytes = new Uint8Array(handle.getSize());
  handle.read(bytes, { at: 0 });
  return bytes;
}

function different(now, before) {
  return now.length !== before.length || now.some((byte, at) => byte !== before[at]);
}

async function hold(kind) {
  const program = await FilesModule();
  const text = (at) => new TextDecoder().decode(program.HEAPU8.slice(at, program.HEAPU8.indexOf(0, at)));
  const answers = [];
  let place = await places[kind]();
  for (const which of [0, 1]) {
    for (let nth = 0; nth < program._slipway_promises(which); nth += 1) {
      for (const { handle } of place.files) {
        handle.truncate(0);
        handle.flush();
      }
      program.files = place.files;
      program.pages = place.pages;
      let broken = text(program._slipway_promise_broken(which, nth));
      const seen = place.files.map(bytesOf);
      await place.close();
      place = await places[kind]();
      place.files.forEach((file, i) => {
        if (!broken && different(bytesOf(file), seen[i])) broken = `${file.name} is another file after it was closed and opened again`;
      });
      answers.push({ name: text(program._slipway_promise_name(which, nth)), broken, bytes: seen.reduce((sum, { length }) => sum + length, 0) });
    }
  }
  await place.close();
  return { answers, weak };
}

hold(self.name).then((told) => postMessage(told), (error) => postMessage({ trouble: String(error.stack || error) }));
