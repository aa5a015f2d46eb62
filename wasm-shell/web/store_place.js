// Where the store lives in this browser: the lock that lets one window write, its files, and
// the second place of the open token.
//
// The files are synchronous handles where the browser has them, else pages in IndexedDB
// (page_store.js). Pages found beside handles are those of a browser that has learned handles
// since: if the handles are empty the files move there; if both hold something, the program
// takes the entries of the pages into the store of the handles. Nothing is lost either way.
//
// The token is written here first and awaited, and only then the store is opened: a crash
// between the two costs a new incarnation, nothing else.

import { PageStore } from './page_store.js';

const lockName = 'slipway store';
const channelName = 'slipway store';
const fileNames = ['slipway.db', 'slipway.db-journal', 'slipway-before.db', 'slipway-ballast'];
const tokenDatabase = 'slipway token';
const tokenOfHandles = 'open', tokenOfPages = 'pages';
const tokenBytes = 16;
const handleTries = 40;       // a closed tab may hold its handles a moment longer
const handleWaitMs = 75;
const answerWaitMs = 2000;    // after that a window that doesn't answer is no longer asked

// entry_points.cpp. passing: pages, in a browser that perhaps forgets them (a private window).
export const place = { kept: 0, memory: 1, busy: 2, noPermission: 3, failed: 4, full: 5, pages: 6, passing: 7 };
const opens = new Set([place.kept, place.pages, place.passing]);

const keyOf = (opened) => (opened === place.kept ? tokenOfHandles : tokenOfPages);
const wait = (ms) => new Promise((done) => setTimeout(done, ms));

export class StorePlace {
  // onTaken() is called when another window wants the store, or has taken it: it closes the
  // store, then this side closes the files. onSettled(): pages were kept, or refused.
  constructor(onTaken, onSettled) {
    this.onTaken = onTaken;
    this.onSettled = onSettled;
    this.files = [];
    this.pages = null;    // where the files are, or what lies beside them
    this.release = null;  // lets go of the lock
    this.channel = new BroadcastChannel(channelName);
    this.heard = () => {};  // another window says that it holds the store
    this.channel.onmessage = ({ data }) => {
      if (data === 'mine') this.heard();
      if (data === 'whose' && this.release) this.channel.postMessage('mine');
      if (data === 'let go' && this.release) this.give();
    };
  }

  // True: the lock is ours until close(). Waits only where nobody says "mine": a page that was
  // just closed or loaded again may hold the lock a moment longer.
  async hold() {
    if (await this.request({ ifAvailable: true })) return true;
    return this.waitFor('whose', new Promise((answered) => { this.heard = answered; }));
  }

  // Asks the window that holds the store to close it; takes the lock away if it stays silent.
  async takeOver() {
    return await this.waitFor('let go', new Promise(() => {})) || this.request({ steal: true });
  }

  // Says it to the other windows and waits for the lock, until the time is over or `enough`.
  async waitFor(word, enough) {
    const patience = new AbortController();
    const timer = setTimeout(() => patience.abort(), answerWaitMs);
    enough.then(() => patience.abort());
    this.channel.postMessage(word);
    const held = await this.request({ signal: patience.signal });
    clearTimeout(timer);
    return held;
  }

  // With the lock held: fresh token out, handles open. Answers what the program must know.
  async open() {
    const { release } = this;
    const [tokens, opened] = await Promise.all([readTokens(), this.openFiles()]);
    if (this.release !== release) {  // another window has taken over meanwhile: what was opened since is let go
      await this.letGo();
      return null;
    }
    const fresh = crypto.getRandomValues(new Uint8Array(tokenBytes));
    const key = opened === place.kept && !this.moved ? tokenOfHandles : tokenOfPages;
    // Where there are no pages yet, the token of handles says that a store was here and is out of reach.
    const found = tokens[key] || (opened !== place.kept && this.pages && this.pages.isEmpty ? tokens[tokenOfHandles] : null);
    if (opens.has(opened)) await writeToken(keyOf(opened), fresh);
    return { place: opened, found, fresh, beside: opened === place.kept && this.pages !== null };
  }

  // The store was only looked at: it still holds the token that was found.
  async putBack({ place: opened, found }) {
    if (found && opens.has(opened)) await writeToken(keyOf(opened), found);
  }

  get opens() {
    return this.files.length > 0;
  }

  // The lock is let go when what is on its way has arrived.
  async close() {
    const { release } = this;
    this.release = null;
    await this.letGo();
    if (release) release();
  }

  async letGo() {
    const { files, pages } = this;
    this.files = [];
    this.pages = null;
    if (pages) await pages.close();
    for (const { handle } of files) handle.close();
  }

  // What lay beside was taken in.
  async forgetBeside() {
    const { pages } = this;
    this.pages = null;
    await pages.forget().catch(() => {});  // then it is taken in once more at the next start, as known
  }

  give() {
    this.onTaken();
    this.close();
  }

  request(options) {
    return new Promise((settle) => {
      navigator.locks.request(lockName, options, (lock) => {
        if (!lock) {
          settle(false);
          return undefined;
        }
        return new Promise((release) => {
          this.release = release;
          settle(true);
        });
      }).catch((error) => {
        const stolen = error.name === 'AbortError' && this.release !== null;
        if (stolen) this.give();
        settle(false);
      });
    });
  }

  async openFiles() {
    this.moved = false;
    const asked = PageStore.mayBeThere().catch(() => 'unknown');  // meanwhile
    const opened = await this.openHandles();
    if (opened === place.pages || opened === place.passing) return this.openPages(opened);
    if (opened !== place.kept) return opened;
    const answer = await asked;
    let beside = null;
    try {
      beside = answer === 'no' ? null : await findPages(this.onSettled);
    } catch {
      // They are there and out of reach. Going on without them would leave two stores that both hold something, or open
      // what a move cut short has left.
      if (answer === 'yes') {
        this.closeHandles();
        return place.failed;
      }
    }
    if (!beside) return opened;
    if (this.files[0].handle.getSize() > 0 && !beside.isMoving) {
      this.pages = beside;
      return opened;
    }
    return this.moveIn(beside);
  }

  // Answers pages or passing where there are no such handles.
  async openHandles() {
    if (!navigator.storage || !navigator.storage.getDirectory) return place.pages;
    let folder;
    try {
      folder = await navigator.storage.getDirectory();
    } catch {
      return place.passing;  // a private window, or a person who turned storage off
    }
    const { release } = this;
    try {
      for (const name of fileNames) {
        this.files.push({ name, handle: await openHandle(folder, name) });
        if (this.release !== release) break;  // taken over: open() lets go of them
      }
      return place.kept;
    } catch (error) {
      this.closeHandles();
      return refusal(error);
    }
  }

  closeHandles() {
    for (const { handle } of this.files) handle.close();
    this.files = [];
  }

  async openPages(as) {
    try {
      this.pages = await PageStore.open(fileNames, this.onSettled);
    } catch (error) {
      const why = error && error.name === 'QuotaExceededError' ? place.full : place.memory;
      return why;
    }
    this.files = this.pages.files;
    return as;
  }

  // Pages into the empty handles. Cut short, the mark on the pages makes the next start begin again, before
  // anything else touches the handles.
  async moveIn(pages) {
    try {
      await pages.markMoving();
      for (const { name, handle } of this.files) {
        const from = pages.file(name).handle;
        const bytes = new Uint8Array(from.getSize());
        from.read(bytes, { at: 0 });
        handle.truncate(0);
        if (handle.write(bytes, { at: 0 }) !== bytes.length) throw new DOMException('no room', 'QuotaExceededError');
        handle.flush();
      }
      await pages.forget();
      this.moved = true;
      return place.kept;
    } catch {
      for (const { handle } of this.files) handle.truncate(0);
      this.closeHandles();
      await pages.markMoving(false).catch(() => {});  // what is kept from now on is kept there
      this.pages = pages;  // it stays where it is, and goes on there
      this.files = pages.files;
      return place.pages;
    }
  }
}

// Throws where they cannot be read.
async function findPages(onSettled) {
  const pages = await PageStore.open(fileNames, onSettled);
  if (!pages.isEmpty) return pages;
  await pages.forget().catch(() => {});
  return null;
}

function refusal(error) {
  switch (error.name) {
    case 'TypeError': return place.pages;  // no synchronous handles here
    case 'NoModificationAllowedError':
    case 'InvalidStateError': return place.busy;
    case 'NotAllowedError':
    case 'SecurityError': return place.noPermission;
    case 'QuotaExceededError': return place.full;
    default: return place.failed;
  }
}

async function openHandle(folder, name) {
  const file = await folder.getFileHandle(name, { create: true });
  for (let tries = 1; ; tries += 1) {
    try {
      return await file.createSyncAccessHandle();
    } catch (error) {
      const held = error.name === 'NoModificationAllowedError' || error.name === 'InvalidStateError';
      if (!held || tries === handleTries) throw error;
      await wait(handleWaitMs);
    }
  }
}

// --- the second place: an IndexedDB database of its own ---------------------------------

function openTokenDatabase() {
  return new Promise((done, failed) => {
    const request = indexedDB.open(tokenDatabase, 1);
    request.onupgradeneeded = () => request.result.createObjectStore('token');
    request.onsuccess = () => done(request.result);
    request.onerror = () => failed(request.error);
  });
}

async function withTokens(mode, work) {
  const database = await openTokenDatabase();
  try {
    return await new Promise((done, failed) => {
      const transaction = database.transaction('token', mode, { durability: 'strict' });
      const request = work(transaction.objectStore('token'));
      transaction.oncomplete = () => done(request.result);
      transaction.onabort = () => failed(transaction.error);
    });
  } finally {
    database.close();
  }
}

// No token and no database to keep it in look alike: the store then says that it was copied,
// which is the careful answer.
async function readTokens() {
  const found = {};
  for (const key of [tokenOfHandles, tokenOfPages]) {
    try {
      const token = await withTokens('readonly', (tokens) => tokens.get(key));
      if (token instanceof Uint8Array && token.length === tokenBytes) found[key] = token;
    } catch {
      // as if none were there
    }
  }
  return found;
}

async function writeToken(key, token) {
  try {
    await withTokens('readwrite', (tokens) => tokens.put(token, key));
  } catch {
    // The next opening finds no token that fits and mints a new incarnation.
  }
}
