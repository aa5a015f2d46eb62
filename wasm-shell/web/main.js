// The page: starts the worker, hands it the canvas and what the browser says, and keeps the
// mirror in step with what comes back. Nothing is decided here.
import { Mirror } from './mirror.js';
import { Outside } from './outside.js';

const params = new URLSearchParams(location.search);
const testing = params.get('test') === '1';
const root = document.documentElement;
const canvas = document.getElementById('picture');
const textScales = [1, 1.25, 1.5, 2];

// The worker must know at once which store it opens; its address has to stay the cached one.
const worker = new Worker('worker.js', { type: 'module', name: params.has('demo') ? 'slipway demo' : 'slipway' });
const wasm = compile('slipway.wasm');

let holdsUnkept = false;
let count = 0;

// Answers the number under which it was told; frames carry the last one they know of.
function tell(message, transfer) {
  count += 1;
  worker.postMessage({ ...message, told: count }, transfer || []);
  return count;
}

const mirror = new Mirror(document.getElementById('mirror'), document.getElementById('said'),
  document.getElementById('hints'), tell);
const outside = new Outside(document.getElementById('file'), tell);

async function compile(address) {
  const answer = await fetch(address);
  const type = answer.headers.get('content-type') || '';
  if (type.startsWith('application/wasm')) return WebAssembly.compileStreaming(answer);
  return WebAssembly.compile(await answer.arrayBuffer());  // a host that names no type
}

// --- what the browser says -----------------------------------------------------------------

const dark = matchMedia('(prefers-color-scheme: dark)');
const forced = matchMedia('(forced-colors: active)');
const calm = matchMedia('(prefers-reduced-motion: reduce)');
const rem = document.getElementById('rem');

function look() {
  const theme = forced.matches ? 'forced' : dark.matches ? 'night' : 'daylight';
  return { theme, reducedMotion: calm.matches };
}

// The nearest of the sizes the screens are drawn in, from the browser's own text size.
function textScale() {
  const wanted = parseFloat(getComputedStyle(root).fontSize) / 16;
  return textScales.reduce((best, one) => (Math.abs(one - wanted) < Math.abs(best - wanted) ? one : best));
}

function surface() {
  const style = getComputedStyle(rem);
  const inset = (side) => parseFloat(style[`padding${side}`]) || 0;
  return {
    width: canvas.clientWidth,
    height: canvas.clientHeight,
    ratio: devicePixelRatio,
    insets: { top: inset('Top'), right: inset('Right'), bottom: inset('Bottom'), left: inset('Left') },
    textScale: textScale(),
  };
}

function watchBrowser() {
  for (const query of [dark, forced, calm]) query.addEventListener('change', () => tell({ kind: 'look', ...look() }));
  let known = JSON.stringify(surface());
  const tellSurface = () => {
    const now = surface();
    if (JSON.stringify(now) === known) return;
    known = JSON.stringify(now);
    tell({ kind: 'surface', ...now });
  };
  const sizes = new ResizeObserver(tellSurface);
  sizes.observe(canvas);
  sizes.observe(rem);  // one rem wide: a new text size shows here
  addEventListener('resize', tellSurface);
  document.addEventListener('visibilitychange', () => tell({ kind: 'hidden', isHidden: document.hidden }));
  // What is not kept goes when the page goes: the browser asks first.
  addEventListener('beforeunload', (event) => { if (holdsUnkept) event.preventDefault(); });
  addEventListener('pagehide', () => tell({ kind: 'leave' }));
  addEventListener('pageshow', (event) => event.persisted && tell({ kind: 'come back' }));
}

// --- what the worker says --------------------------------------------------------------------

const hears = {
  frame: ({ count: frames, told, tree, unkept }) => {
    holdsUnkept = unkept > 0;
    if (tree) mirror.show(JSON.parse(tree), told);
    mirror.root.dataset.frames = frames;
    if (frames === 1) firstFrame();
  },
  'hand over': ({ name, bytes }) => outside.handOver(name, bytes),
  file: () => outside.askForFile(),
  persist: () => outside.askToPersist(),
  signal: ({ detail }) => outside.signal((detail & 1) !== 0, (detail & 2) !== 0),
  awake: ({ detail }) => outside.stayAwake(detail === 1),
  'leave demo': () => location.assign(location.pathname),
  'no picture': () => root.classList.add('no-picture'),
  stopped: ({ reason }) => {
    console.error(reason);
    document.getElementById('stopped').hidden = false;
  },
  test: () => {},
};

worker.addEventListener('message', ({ data }) => hears[data.kind](data));
worker.addEventListener('error', (event) => hears.stopped({ reason: event.message || 'the worker did not start' }));

function firstFrame() {
  performance.mark('first frame');
  outside.tellPersisted();
  keepForOffline();
}

// From here on the app opens with the server gone. A newer version waits until every window
// of this one is closed.
async function keepForOffline() {
  if (!('serviceWorker' in navigator)) return;
  try {
    await navigator.serviceWorker.register('sw.js');
    await navigator.serviceWorker.ready;
    root.dataset.offline = 'ready';
  } catch (error) {
    console.warn('not kept for use offline:', error.message);
  }
}

async function begin() {
  const offscreen = canvas.transferControlToOffscreen();
  const facts = { surface: surface(), look: look(), isHidden: document.hidden, draws: params.get('draw') !== 'off' };
  watchBrowser();
  worker.postMessage({ kind: 'begin', canvas: offscreen, wasm: await wasm, ...facts }, [offscreen]);
  if (testing) (await import('./test_port.js')).open(worker);
}

begin().catch((error) => hears.stopped({ reason: error.stack }));
