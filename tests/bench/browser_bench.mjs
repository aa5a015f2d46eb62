// Medians in headless Chromium at 390x844, drawn by software: ratios mean more than times.
import { spawn } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createRequire } from 'node:module';
import { root } from '../browser/kit.mjs';

const { chromium } = createRequire(import.meta.url)(join(root, 'build/third-party/node/node_modules/playwright-core'));
const visits = 5;
const sets = 10;
const args = ['--no-sandbox', '--use-gl=angle', '--use-angle=swiftshader', '--enable-unsafe-swiftshader',
  '--disable-background-networking', '--disable-component-update', '--no-first-run'];
const median = (values) => [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)];
const firstFrame = (page) => page.waitForFunction(() => performance.getEntriesByName('first frame')[0]?.startTime)
  .then((handle) => handle.jsonValue());

const server = spawn('node', [join(root, 'wasm-shell/server.mjs'), join(root, 'build/wasm/site'), '0']);
const address = await new Promise((done) => {
  server.stdout.on('data', (text) => {
    const found = String(text).match(/http:\S+/);
    if (found) done(found[0]);
  });
});
const cold = [];
const warm = [];
const kept = [];
try {
  for (let i = 0; i < visits; i += 1) {
    const folder = mkdtempSync(join(tmpdir(), 'slipway-bench-'));
    const browser = await chromium.launchPersistentContext(folder, {
      executablePath: process.env.CHROMIUM || '/usr/bin/chromium', args, viewport: { width: 390, height: 844 },
    });
    const page = await browser.newPage();
    await page.goto(address);
    cold.push(await firstFrame(page));
    await page.waitForFunction(() => document.documentElement.dataset.offline === 'ready');
    await page.reload();
    warm.push(await firstFrame(page));
    if (i === 0) {
      await page.getByRole('textbox').first().fill('Wren');
      await page.getByRole('button', { name: 'Start', exact: true }).click();
      for (let set = 1; set <= sets; set += 1) {
        const key = page.getByRole('button', { name: /^Log (as written|one more)/ });
        await key.waitFor();
        kept.push(await page.evaluate((round) => new Promise((done) => {
          const start = performance.now();
          const wanted = new RegExp(`round ${round}: .*kept`);
          const look = () => [...document.querySelectorAll('[role=gridcell]')].some((cell) => wanted.test(cell.getAttribute('aria-label') || cell.textContent));
          const watch = new MutationObserver(() => {
            if (!look()) return;
            watch.disconnect();
            done(performance.now() - start);
          });
          watch.observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });
          [...document.querySelectorAll('button')].find((button) => /^Log (as written|one more)/.test(button.getAttribute('aria-label') || button.textContent)).click();
        }), set));
        await page.waitForTimeout(750);  // the key is deaf for 700 ms after a log
      }
    }
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  }
} finally {
  server.kill();
}
console.log(`browser, ${visits} visits:`);
console.log(`  figure first_frame_cold ${median(cold).toFixed(0)} ms`);
console.log(`  figure first_frame_from_service_worker ${median(warm).toFixed(0)} ms`);
console.log(`  figure tap_to_kept ${median(kept).toFixed(0)} ms (tap, commit on private file handles, frame, tree)`);
process.exit(0);
