// Puts the page together: the page's own files, the worker and the built program, in one
// folder that any static host can serve. The service worker learns the list of files and a
// version that changes when any byte of them does.
//
//   node wasm-shell/stage.mjs BUILD_FOLDER     -> BUILD_FOLDER/site
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, readFileSync, readdirSync, renameSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const shell = dirname(fileURLToPath(import.meta.url));
const build = process.argv[2];
if (!build) {
  console.error('usage: node wasm-shell/stage.mjs BUILD_FOLDER');
  process.exit(2);
}
const site = join(build, 'site');
const part = join(build, 'site.part');

rmSync(part, { recursive: true, force: true });
mkdirSync(part, { recursive: true });
cpSync(join(shell, 'web'), part, { recursive: true });
cpSync(join(shell, 'worker.js'), join(part, 'worker.js'));
for (const name of ['slipway.js', 'slipway.wasm']) cpSync(join(build, name), join(part, name));

const files = readdirSync(part).filter((name) => statSync(join(part, name)).isFile() && name !== 'sw.js').sort();
const hash = createHash('sha256');
for (const name of [...files, 'sw.js']) hash.update(name).update('\0').update(readFileSync(join(part, name)));
const worker = readFileSync(join(part, 'sw.js'), 'utf8')
  .replaceAll('__SLIPWAY_VERSION__', hash.digest('hex').slice(0, 16))
  .replaceAll('__SLIPWAY_FILES__', JSON.stringify(['./', ...files.filter((name) => name !== 'index.html')]));
writeFileSync(join(part, 'sw.js'), worker);
rmSync(site, { recursive: true, force: true });
renameSync(part, site);
