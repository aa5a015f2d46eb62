// A small static server for this computer only. Any static host does as well: the page
// needs no special headers.
//
//   node wasm-shell/server.mjs FOLDER [PORT] [--greet] [--open]
//
// PORT 0 or taken: another free one is used. Prints "serving http://127.0.0.1:PORT/" when it
// listens; --greet says what there is to see, --open shows it in this desktop's browser.
import { spawn } from 'node:child_process';
import { createReadStream, statSync } from 'node:fs';
import { createServer } from 'node:http';
import { extname, join, normalize, resolve, sep } from 'node:path';

const folder = resolve(process.argv[2] ?? '.');
const asked = Number(process.argv[3] ?? 8760);
const words = process.argv.slice(4);
const types = {
  '.html': 'text/html; charset=utf-8', '.js': 'text/javascript; charset=utf-8', '.mjs': 'text/javascript; charset=utf-8',
  '.css': 'text/css; charset=utf-8', '.wasm': 'application/wasm', '.svg': 'image/svg+xml', '.png': 'image/png',
  '.webmanifest': 'application/manifest+json', '.json': 'application/json', '.ttf': 'font/ttf',
};

const server = createServer((request, response) => {
  let file = '';
  let about = null;
  try {
    const path = decodeURIComponent(new URL(request.url, 'http://127.0.0.1').pathname);
    file = normalize(join(folder, path.endsWith('/') ? path + 'index.html' : path));
    about = file.startsWith(folder + sep) ? statSync(file) : null;
  } catch {
    about = null;
  }
  if (!about?.isFile() || !['GET', 'HEAD'].includes(request.method)) {
    response.writeHead(404, { 'content-type': 'text/plain; charset=utf-8' });
    response.end('Not here.\n');
    return;
  }
  response.writeHead(200, {
    'content-type': types[extname(file)] ?? 'application/octet-stream',
    'content-length': about.size,
    'cache-control': 'no-cache',
    'x-content-type-options': 'nosniff',
  });
  if (request.method === 'HEAD') response.end();
  else createReadStream(file).pipe(response);
});

server.on('error', (error) => {
  if (error.code !== 'EADDRINUSE') throw error;
  console.log(`port ${asked} is taken: another is used`);
  server.listen(0, '127.0.0.1');
});
server.on('listening', () => {
  const address = `http://127.0.0.1:${server.address().port}/`;
  console.log(`serving ${address}`);
  if (words.includes('--greet')) {
    console.log(`Slipway with the made-up squad: ${address}?demo`);
    console.log(`Slipway empty, to start your own: ${address}`);
    console.log('Ctrl+C stops it.');
  }
  if (words.includes('--open')) spawn('xdg-open', [`${address}?demo`], { stdio: 'ignore', detached: true }).unref();
});
server.listen(asked, '127.0.0.1');
