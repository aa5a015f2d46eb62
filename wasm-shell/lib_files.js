// The program's files (outside.h): `Module.files` is a list of { name, handle }, opened by
// the worker; `Module.beside` such a list of an older place; `Module.pages` a PageStore, where
// the files are kept later than they are written. An answer below 0 is a host::IoStatus with its sign turned. (Members of a
// library are plain functions without destructuring: emcc 3.1.6 can't read arrow functions
// without braces, and drops names it does not see declared.)
mergeInto(LibraryManager.library, {
  $SlipwayFiles: {
    full: 2, busy: 3, noPermission: 4, failed: 5,  // host::IoStatus

    // Runs one storage call and turns what it throws into a status.
    attempt: (writes, call) => {
      try {
        // Only the test port sets this: the name of what the storage shall throw.
        if (writes && Module.refusal) throw new DOMException('asked for by a test', Module.refusal);
        return call();
      } catch (error) {
        return -SlipwayFiles.status(error);
      }
    },
    status: (error) => {
      switch (error && error.name) {
        case 'QuotaExceededError': return SlipwayFiles.full;
        case 'NoModificationAllowedError': return SlipwayFiles.busy;
        case 'NotAllowedError':
        case 'SecurityError': return SlipwayFiles.noPermission;
        default: return SlipwayFiles.failed;
      }
    },
    handle: (slot) => (slot < SlipwayFiles.beside ? Module.files[slot] : Module.beside[slot - SlipwayFiles.beside]).handle,
    beside: 1000,  // slots from here on are those of the older place
  },

  slipway_file_slot__deps: ['$SlipwayText', '$SlipwayFiles'],
  slipway_file_slot: function (isBeside, name, size) {
    const wanted = SlipwayText.read(name, size);
    const slot = ((isBeside ? Module.beside : Module.files) || []).findIndex((file) => file.name === wanted);
    return slot >= 0 && isBeside ? slot + SlipwayFiles.beside : slot;
  },

  slipway_files_handed: function () {
    return Module.pages ? Module.pages.handed : 0;
  },
  slipway_files_last: function () {
    return Module.pages ? Module.pages.lasts : 0;
  },
  slipway_files_trouble__deps: ['$SlipwayFiles'],
  slipway_files_trouble: function () {
    const refused = Module.pages && Module.pages.trouble && !Module.pages.running && !Module.pages.changed;
    return refused ? SlipwayFiles.status(Module.pages.trouble) : 0;
  },
  slipway_files_hand_again: function () {
    if (Module.pages) Module.pages.handAgain();
  },

  slipway_file_read__deps: ['$SlipwayFiles'],
  slipway_file_read: function (slot, offset, into, count) {
    return SlipwayFiles.attempt(false, () => SlipwayFiles.handle(slot).read(HEAPU8.subarray(into, into + count), { at: offset }));
  },

  slipway_file_write__deps: ['$SlipwayFiles'],
  slipway_file_write: function (slot, offset, bytes, count) {
    return SlipwayFiles.attempt(true, () => {
      const written = SlipwayFiles.handle(slot).write(HEAPU8.subarray(bytes, bytes + count), { at: offset });
      return written === count ? 0 : -SlipwayFiles.full;  // a short write is how a full disk looks
    });
  },

  slipway_file_truncate__deps: ['$SlipwayFiles'],
  slipway_file_truncate: function (slot, size) {
    return SlipwayFiles.attempt(false, () => {
      SlipwayFiles.handle(slot).truncate(size);
      return 0;
    });
  },

  slipway_file_flush__deps: ['$SlipwayFiles'],
  slipway_file_flush: function (slot) {
    return SlipwayFiles.attempt(false, () => {
      SlipwayFiles.handle(slot).flush();
      return 0;
    });
  },

  slipway_file_size__deps: ['$SlipwayFiles'],
  slipway_file_size: function (slot) {
    return SlipwayFiles.attempt(false, () => SlipwayFiles.handle(slot).getSize());
  },
});
