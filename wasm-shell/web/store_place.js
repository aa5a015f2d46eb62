// Where the store lives in this browser: the lock that lets one window write, the open
// handles of its files, and the second place of the open token.
//
// The token is written here first and awaited, and only then the store is opened: a crash
// between the two costs a new incarnation, nothing else.

const lockName = 'slipway store';
const channelName = 'slipway store';
const fileNames = ['slipway.db', 'slipway.db-journal', 'slipway-before.db'];
const tokenDatabase = 'slipway token';
const tokenBytes = 16;
const handleTries = 40;       // a closed tab may hold its handles a moment longer
const handleWaitMs = 75;
const answerWaitMs = 2000;    // after that a window that doesn't answer is no longer asked

export const place = { kept: 0, memory: 1, busy: 2, noPermission: 3, failed: 4, full: 5 };  // entry_points.cpp

const wait = (ms) => new Promise((done) => setTimeout(done, ms));

export class StorePlace {
  // onTaken() is called when another window wants the store, or has taken it: it closes the
  // store, then this side closes the handles.
  constructor(onTaken) {
    this.onTaken = onTaken;
    this.files = [];
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
    const [found, opened] = await Promise.all([readToken(), this.openFiles()]);
    const fresh = crypto.getRandomValues(new Uint8Array(tokenBytes));
    if (opened === place.kept) await writeToken(fresh);
    return { place: opened, found, fresh };
  }

  close() {
    for (const { handle } of this.files) handle.close();
    this.files = [];
    if (this.release) this.release();
    this.release = null;
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
    let folder;
    try {
      folder = await navigator.storage.getDirectory();
    } catch {
      return place.memory;  // a private window, or no such storage at all
    }
    try {
      for (const name of fileNames) this.files.push({ name, handle: await openHandle(folder, name) });
      return place.kept;
    } catch (error) {
      for (const { handle } of this.files) handle.close();
      this.files = [];
      return refusal(error);
    }
  }
}

function refusal(error) {
  switch (error.name) {
    case 'TypeError': return place.memory;  // no synchronous handles here
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
async function readToken() {
  try {
    const token = await withTokens('readonly', (tokens) => tokens.get('open'));
    return token instanceof Uint8Array && token.length === tokenBytes ? token : null;
  } catch {
    return null;
  }
}

async function writeToken(token) {
  try {
    await withTokens('readwrite', (tokens) => tokens.put(token, 'open'));
  } catch {
    // The next opening finds no token that fits and mints a new incarnation.
  }
}
