// What the program asks of the worker it runs in (outside.h). `Module.outside` is
// worker.js's side of it.
mergeInto(LibraryManager.library, {
  slipway_local_ms: function () {
    const now = new Date();
    return now.getTime() - now.getTimezoneOffset() * 60000;
  },
  slipway_utc_offset_min: function () {
    return -new Date().getTimezoneOffset();
  },
  slipway_monotonic_ms: function () {
    return performance.now();
  },

  slipway_random: function (into, count) {
    const most = 65536;  // of one call, by the standard
    for (let done = 0; done < count; done += most) {
      crypto.getRandomValues(HEAPU8.subarray(into + done, into + Math.min(count, done + most)));
    }
  },

  slipway_hand_over__deps: ['$SlipwayText'],
  slipway_hand_over: function (name, nameSize, bytes, size) {
    Module.outside.handOver(SlipwayText.read(name, nameSize), HEAPU8.slice(bytes, bytes + size));
  },
  slipway_ask: function (what, detail) {
    Module.outside.ask(what, detail);
  },
  slipway_show__deps: ['$SlipwayText'],
  slipway_show: function (tree, size) {
    Module.outside.show(SlipwayText.read(tree, size));
  },

  $SlipwayText: {
    decoder: null,
    read: (from, size) => {
      SlipwayText.decoder = SlipwayText.decoder || new TextDecoder();
      return SlipwayText.decoder.decode(HEAPU8.slice(from, from + size));
    },
  },

  slipway_gl_open__deps: ['$GL'],
  slipway_gl_open: function () {
    const facts = { alpha: false, depth: false, stencil: false, antialias: false, majorVersion: 2, minorVersion: 0 };
    const context = Module.canvas.getContext('webgl2', facts);
    if (!context) return 0;
    const handle = GL.registerContext(context, facts);
    GL.makeContextCurrent(handle);
    return handle;
  },
  slipway_gl_size: function (width, height) {
    Module.canvas.width = width;
    Module.canvas.height = height;
  },
});
