// The store's files where synchronous handles are missing: images in memory, kept page by page
// in IndexedDB.
//
// The program reads and writes the images at once, and everything it changed in one go (never
// less than one whole commit, because nothing is handed on while it runs) becomes one strict
// transaction: all of it lasts or nothing does. Batches never overlap and are numbered from 1.
// Acknowledged is what `lasts` says, and that moves in `oncomplete`, never earlier. What a
// refused batch held stays changed and goes with the next one.

const databaseName = 'slipway pages';
const pageBytes = 4096;
const ownerKey = 'owner', movingKey = 'moving';  // beside the names of files, in 'sizes'

export class PageStore {
  // onSettled() is called when a batch lasts or was refused. Throws if there is no IndexedDB here.
  // Whether something lies there: 'yes', 'no', or 'unknown' in a browser that can not tell.
  static async mayBeThere() {
    if (!self.indexedDB) return 'no';
    if (!indexedDB.databases) return 'unknown';
    return (await indexedDB.databases()).some(({ name }) => name === databaseName) ? 'yes' : 'no';
  }

  static async open(names, onSettled) {
    const store = new PageStore(await openDatabase(), onSettled);
    try {
      await store.load(names);
      return store;
    } catch (error) {
      store.database.close();
      throw error;
    }
  }

  constructor(database, onSettled) {
    this.database = database;
    this.onSettled = onSettled;
    this.owner = crypto.randomUUID ? crypto.randomUUID() : String(crypto.getRandomValues(new Uint32Array(4)));
    this.claimed = false;   // our name stands in the database
    this.files = [];
    this.isMoving = false;
    this.changed = false;   // since the batch that is on its way
    this.running = null;    // that batch, as a promise
    this.begun = 0;         // its number
    this.lasts = 0;
    this.trouble = null;    // why the newest batch was refused
    this.scheduled = false;
    this.refusal = '';      // only the test port sets this: the name of what the next batches shall meet
    // The browser takes the database away (site data cleared): another one gets everything.
    database.onclose = () => { this.database = null; };
    database.onversionchange = () => this.database && this.database.close();
  }

  get isEmpty() {
    return this.files.every(({ handle }) => handle.getSize() === 0);
  }

  // The number of the batch that holds, or will hold, all that was written so far.
  get handed() {
    return this.begun + (this.changed ? 1 : 0);
  }

  file(name) {
    return this.files.find((file) => file.name === name);
  }

  // Once the present call into the program is over: then no transaction of it is open.
  note() {
    this.changed = true;
    if (this.scheduled || this.running) return;
    this.scheduled = true;
    queueMicrotask(() => this.hand());
  }

  // Gives what was refused to the storage once more, with all that came since.
  handAgain() {
    if (this.trouble) this.note();
  }

  hand() {
    this.scheduled = false;
    if (!this.changed || this.running) return;
    this.changed = false;
    this.begun += 1;
    const number = this.begun;
    const batches = this.files.map(({ handle }) => handle.take());
    this.running = this.write(batches).then(() => {
      this.lasts = number;
      this.trouble = null;
    }, (error) => {
      batches.forEach((batch, i) => this.files[i].handle.giveBack(batch));
      this.trouble = error || new DOMException('refused', 'UnknownError');
    }).then(() => {
      this.running = null;
      // What a refused batch held waits for the next change or for handAgain().
      if (this.changed) this.hand();
      this.onSettled();
    });
  }

  async write(batches) {
    if (this.refusal) throw new DOMException('asked for by a test', this.refusal);
    if (!this.database) await this.beginAnew(batches);
    const all = batches.flatMap((batch, i) => this.writesOf(this.files[i], batch));
    const { owner, claimed } = this;
    await inTransaction(this.database, ['pages', 'sizes'], 'readwrite', (pages, sizes, transaction) => {
      if (!claimed) sizes.put(owner, ownerKey);
      const found = sizes.get(ownerKey);
      found.onsuccess = () => {
        if (found.result !== owner) {
          transaction.refusedBecause = new DOMException('another window writes', 'NoModificationAllowedError');
          transaction.abort();
          return;
        }
        for (const [where, key, value] of all) {
          const into = where === 'pages' ? pages : sizes;
          if (value === undefined) into.delete(key);
          else into.put(value, key);
        }
      };
    });
    this.claimed = true;
  }

  // An empty database in place of one that went away: every page goes into it.
  async beginAnew(batches) {
    const database = await openDatabase();
    this.claimed = false;
    database.onclose = () => { this.database = null; };
    this.database = database;
    this.files.forEach(({ handle }, i) => { batches[i] = handle.whole(); });
  }

  writesOf({ name, handle }, { pages, cutFrom }) {
    const writes = [['sizes', name, handle.getSize()]];
    if (cutFrom !== Infinity) writes.push(['pages', IDBKeyRange.bound([name, cutFrom], [name, Infinity], false, true), undefined]);
    for (const page of pages) writes.push(['pages', [name, page], handle.page(page)]);
    return writes;
  }

  // A storage that is full is read all the same; then the first batch that finds room claims it.
  async load(names) {
    await claim(this.database, this.owner).then(() => { this.claimed = true; }, (error) => {
      if (error.name !== 'QuotaExceededError') throw error;
    });
    await inTransaction(this.database, ['sizes'], 'readonly', (sizes) => {
      const moving = sizes.get(movingKey);
      moving.onsuccess = () => { this.isMoving = moving.result !== undefined; };
    });
    for (const name of names) {
      const handle = new PageFile(() => this.note());
      this.files.push({ name, handle });
      await inTransaction(this.database, ['pages', 'sizes'], 'readonly', (pages, sizes) => {
        const size = sizes.get(name);
        const all = pages.getAll(IDBKeyRange.bound([name, 0], [name, Infinity]));
        const keys = pages.getAllKeys(IDBKeyRange.bound([name, 0], [name, Infinity]));
        keys.onsuccess = () => handle.fill(size.result || 0, keys.result.map(([, page]) => page), all.result);
      });
    }
  }

  // What is on its way arrives, and what was refused is tried once more; then the database is let go.
  async close() {
    if (this.trouble) this.changed = true;
    this.hand();
    while (this.running) await this.running;
    if (this.database) this.database.close();
    this.database = null;
  }

  // From here until forget() the files are being copied to where they will live; `is` false: they are not after all.
  markMoving(is = true) {
    return inTransaction(this.database, ['sizes'], 'readwrite', (sizes) => (is ? sizes.put(1, movingKey) : sizes.delete(movingKey)));
  }

  // All of it goes: it lives elsewhere now.
  async forget() {
    await inTransaction(this.database, ['pages', 'sizes'], 'readwrite', (pages, sizes) => {
      pages.clear();
      sizes.clear();
    });
    this.database.close();
    this.database = null;
    await new Promise((done) => {
      const request = indexedDB.deleteDatabase(databaseName);
      request.onsuccess = done;
      request.onerror = done;  // an empty one does no harm
      request.onblocked = done;
    });
  }
}

// One file in memory, with the calls of a synchronous access handle.
class PageFile {
  constructor(changed) {
    this.changed = changed;
    this.bytes = new Uint8Array(0);
    this.size = 0;
    this.clear();
  }

  clear() {
    this.pages = new Set();   // changed
    this.cutFrom = Infinity;  // pages from here on were cut off
  }

  read(into, { at }) {
    const count = Math.max(0, Math.min(into.length, this.size - at));
    if (count > 0) into.set(this.bytes.subarray(at, at + count));
    return count;
  }

  write(from, { at }) {
    const end = at + from.length;
    this.reach(end);
    this.bytes.set(from, at);
    for (let page = Math.floor(at / pageBytes); page * pageBytes < end; page += 1) this.pages.add(page);
    this.size = Math.max(this.size, end);
    this.changed();
    return from.length;
  }

  truncate(size) {
    if (size === this.size) return;
    this.reach(size);
    if (size < this.size) {
      this.bytes.fill(0, size, this.size);
      const first = Math.ceil(size / pageBytes);
      this.cutFrom = Math.min(this.cutFrom, first);
      for (const page of this.pages) if (page >= first) this.pages.delete(page);
      if (size % pageBytes) this.pages.add(first - 1);
    }
    this.size = size;
    this.changed();
  }

  flush() {}
  close() {}
  getSize() {
    return this.size;
  }

  reach(size) {
    if (size <= this.bytes.length) return;
    const wider = new Uint8Array(Math.max(size, this.bytes.length * 2, 16 * pageBytes));
    wider.set(this.bytes.subarray(0, this.size));
    this.bytes = wider;
  }

  page(number) {
    const at = number * pageBytes;
    this.reach(at + pageBytes);
    return this.bytes.slice(at, at + pageBytes);
  }

  take() {
    const batch = { pages: [...this.pages], cutFrom: this.cutFrom };
    this.clear();
    return batch;
  }

  // A refused batch: its pages are as changed as before, unless they were cut off meanwhile.
  giveBack({ pages, cutFrom }) {
    for (const page of pages) if (page * pageBytes < this.size) this.pages.add(page);
    this.cutFrom = Math.min(this.cutFrom, cutFrom);
  }

  whole() {
    const pages = [];
    for (let page = 0; page * pageBytes < this.size; page += 1) pages.push(page);
    return { pages, cutFrom: 0 };
  }

  fill(size, numbers, pages) {
    this.reach(size);
    this.size = size;
    numbers.forEach((number, i) => {
      const at = number * pageBytes;
      if (at < size) this.bytes.set(pages[i].subarray(0, Math.min(pageBytes, this.bytes.length - at)), at);
    });
  }
}

function openDatabase() {
  return new Promise((done, failed) => {
    const request = indexedDB.open(databaseName, 1);
    request.onupgradeneeded = () => {
      request.result.createObjectStore('pages');
      request.result.createObjectStore('sizes');
    };
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
    request.onblocked = () => failed(new DOMException('held', 'NoModificationAllowedError'));
  });
}

// Whoever comes last writes; a window that was taken over finds another's name and writes nothing.
function claim(database, owner) {
  return inTransaction(database, ['sizes'], 'readwrite', (sizes) => sizes.put(owner, ownerKey));
}

// Done when the transaction lasts. `work` gets the object stores in the order of their names here.
function inTransaction(database, names, mode, work) {
  return new Promise((done, failed) => {
    const transaction = database.transaction(names, mode, { durability: 'strict' });
    transaction.oncomplete = () => done();
    transaction.onabort = () => failed(transaction.refusedBecause || transaction.error);
    try {
      work(...names.map((name) => transaction.objectStore(name)), transaction);
    } catch (error) {
      transaction.refusedBecause = error;  // a put that the browser refuses at once: nothing of the batch may last
      transaction.abort();
    }
  });
}
