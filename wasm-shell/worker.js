// The one worker: storage, program and frames. A frame is drawn only when something has
// come from the page, when the app asks, or while something moves.
import SlipwayModule from './slipway.js';
import { Program } from './program.js';
import { StorePlace } from './store_place.js';

const asked = { 1: 'file', 2: 'take over', 3: 'open again', 4: 'persist', 5: 'signal', 6: 'awake' };  // Asked of web_host.h
const themes = ['daylight', 'night', 'forced'];                              // screens::ThemeName
const pointerMoves = ['moved', 'down', 'up', 'cancelled'];                   // PointerMove of shell.h
const firstFrameWaitMs = 400;  // an opening that takes longer is shown as such
const calmMs = 3000;           // without input: time to tidy

const demo = self.name === 'slipway demo';  // the made-up squad: touches no store

let program = null;
let hidden = false;
let told = 0;          // number of the page's last message; goes back with each frame
let tree = null;       // what the frame that is being made shows

// --- frames ------------------------------------------------------------------------------

const frames = {
  begun: false,          // the first frame waits for the store, but not for long
  wanted: '',            // '', 'smooth' or 'now'
  owed: false,           // something moves: to be drawn though nothing came
  timer: 0,
  turn: new MessageChannel(),

  // After what is already in the queue, so that a burst of messages makes one frame.
  now() {
    if (!this.begun || this.wanted === 'now') return;
    this.wanted = 'now';
    this.turn.port2.postMessage(0);
  },

  // With the screen's own beat: scrolling and dragging.
  smooth() {
    if (hidden) {
      this.now();
    } else if (this.begun && !this.wanted) {
      this.wanted = 'smooth';
      requestAnimationFrame(() => this.run());
    }
  },

  run() {
    if (!this.wanted) return;
    this.wanted = '';
    if (this.owed || program.calls._slipway_wants_frame()) {
      this.owed = false;
      const count = program.calls._slipway_frame();
      postMessage({ kind: 'frame', count, told, tree, unkept: program.calls._slipway_unkept() });
      tree = null;
    }
    this.setTimer();
  },

  begin() {
    this.begun = true;
    this.now();
  },

  setTimer() {
    clearTimeout(this.timer);
    const moves = program.calls._slipway_moves_in_ms() || Infinity;
    const next = Math.min(moves, program.calls._slipway_wakes_in_ms() || Infinity);
    if (next === Infinity) return;
    this.timer = setTimeout(() => {
      program.calls._slipway_tick();
      this.owed = moves === next;
      this.now();
    }, next);
  },
};
frames.turn.port1.onmessage = () => frames.run();

// --- the store -----------------------------------------------------------------------------

const storePlace = new StorePlace(() => {
  if (!program) return;
  program.calls._slipway_taken_over();
  frames.now();
}, () => {
  if (!program) return;
  program.calls._slipway_settled();
  frames.now();
});

// Holds the lock and opens the files: needs no program, so it begins before there is one.
async function holdAndOpen(hold) {
  return (await hold()) ? storePlace.open() : null;
}

function give(opened) {
  if (demo) {
    program.calls._slipway_look_around();
  } else if (opened) {
    program.module.files = storePlace.files;
    program.module.pages = opened.beside ? null : storePlace.pages;
    program.module.beside = opened.beside ? storePlace.pages.files : [];
    program.open(opened.place, opened.found, opened.fresh);
    if (program.calls._slipway_only_looks()) storePlace.putBack(opened);
    if (opened.beside && program.calls._slipway_take_in_beside()) storePlace.forgetBeside();
    if (!storePlace.opens) storePlace.close();
  } else {
    program.calls._slipway_open_elsewhere();
  }
  frames.begin();
}

let opening = demo ? Promise.resolve(null) : holdAndOpen(() => storePlace.hold());

function openAgain(hold) {
  opening = opening.catch(() => {}).then(() => storePlace.close()).then(() => holdAndOpen(hold)).then(give).catch((error) => {
    stop(error);
    return storePlace.close();
  });
}

// --- the program -----------------------------------------------------------------------------

const outside = {
  show: (text) => { tree = text; },
  handOver: (name, bytes) => postMessage({ kind: 'hand over', name, bytes }, [bytes.buffer]),
  ask: (what, detail) => {
    if (demo && (asked[what] === 'take over' || asked[what] === 'open again')) postMessage({ kind: 'leave demo' });
    else if (asked[what] === 'take over') openAgain(() => storePlace.takeOver());
    else if (asked[what] === 'open again') openAgain(() => storePlace.hold());
    else postMessage({ kind: asked[what], detail });
  },
};

async function begin({ canvas, wasm, draws, surface, look, isHidden }) {
  const instantiateWasm = (imports, receive) => {
    WebAssembly.instantiate(wasm, imports).then((instance) => receive(instance), stop);
    return {};
  };
  program = new Program(await SlipwayModule({ canvas, outside, instantiateWasm }));
  const drawn = program.calls._slipway_start(draws);
  if (draws && !drawn) postMessage({ kind: 'no picture' });
  hears.surface(surface);
  hears.look(look);
  hears.hidden({ isHidden });
  watchContext(canvas);
  const slow = setTimeout(() => frames.begin(), firstFrameWaitMs);
  opening = opening.then(give);
  await opening;
  clearTimeout(slow);
}

function watchContext(canvas) {
  canvas.addEventListener('webglcontextlost', (event) => event.preventDefault());
  canvas.addEventListener('webglcontextrestored', () => {
    program.calls._slipway_context_restored();
    frames.now();
  });
}

function stop(error) {
  postMessage({ kind: 'stopped', reason: String(error && error.stack ? error.stack : error) });
}

let calm = 0;

function restartCalm() {
  clearTimeout(calm);
  calm = setTimeout(() => {
    program.calls._slipway_idle();
    navigator.storage?.estimate?.().then(({ quota, usage }) => program.calls._slipway_room_left(quota - usage)).catch(() => {});
    frames.now();
  }, calmMs);
}

// --- what the page says -----------------------------------------------------------------------

const hears = {
  act: ({ action }) => program.act(action),
  focus: ({ id, byKey }) => program.focus(id, byKey),
  key: ({ name, control }) => program.key(name, control),
  undo: () => program.calls._slipway_undo(),
  pointer: ({ move, x, y }) => program.calls._slipway_pointer(pointerMoves.indexOf(move), x, y),
  scroll: ({ id, y }) => program.scroll(id, y),
  surface: ({ width, height, ratio, insets, textScale }) =>
    program.calls._slipway_surface(width, height, ratio, insets.top, insets.right, insets.bottom, insets.left, textScale),
  look: ({ theme, reducedMotion }) => program.calls._slipway_look(themes.indexOf(theme), reducedMotion),
  hidden: ({ isHidden }) => {
    hidden = isHidden;
    program.calls._slipway_hidden(hidden);
    if (!hidden) {
      program.calls._slipway_tick();
      frames.owed = true;  // what changed meanwhile was not drawn
    }
  },
  file: ({ name, bytes }) => program.takeIn(name, new Uint8Array(bytes)),
  'not read': ({ name, isLarge }) => program.notRead(name, isLarge),
  'not out': () => program.calls._slipway_not_handed_over(),
  persisted: ({ answer }) => program.calls._slipway_persisted(answer),
  leave: () => {
    program.calls._slipway_close();
    storePlace.close();
  },
  'come back': () => demo || openAgain(() => storePlace.hold()),
};

// Only the test port sends these (?test=1).
const tests = {
  refuse: ({ errorName }) => {
    if (storePlace.pages) storePlace.pages.refusal = errorName;
    else program.module.refusal = errorName;
  },
  pages: () => Boolean(storePlace.pages),
  digests: () => program.digests(),
  findings: () => program.findings(),
  sets: () => program.calls._slipway_sets(),
  'lose context': () => {
    const context = program.module.canvas.getContext('webgl2');
    const loser = context.getExtension('WEBGL_lose_context');
    loser.loseContext();
    setTimeout(() => loser.restoreContext(), 100);
  },
  // Milliseconds of each of so many frames with nothing new in them: the pass over the page, and the picture where one is drawn.
  passes: ({ count }) => Array.from({ length: count }, () => {
    const before = performance.now();
    program.calls._slipway_frame();
    return performance.now() - before;
  }),
};

// What was told before is done before, an opening too.
async function answerTest(message) {
  frames.run();
  await opening;
  frames.run();
  postMessage({ kind: 'test', answer: tests[message.name](message), ticket: message.ticket });
  frames.now();
}

const smoothly = new Set(['scroll', 'pointer']);
let early = [];  // what the page says before the first frame; null from then on

function hear(message) {
  try {
    told = message.told || told;
    if (message.kind === 'test') answerTest(message);
    else hears[message.kind](message);
    if (smoothly.has(message.kind)) frames.smooth();
    else frames.now();
    restartCalm();
  } catch (error) {
    stop(error);
  }
}

self.onmessage = ({ data }) => {
  if (data.kind === 'begin') {
    begin(data).then(() => {
      const waiting = early;
      early = null;
      waiting.forEach(hear);
    }, stop);
  } else if (early) {
    early.push(data);
  } else {
    hear(data);
  }
};
