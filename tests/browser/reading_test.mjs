// What a screen reader, large text, forced colours and zoom find: axe on the mirror of
// every place, and the rectangles of everything that can be pressed.
import { App, axe, browse, equal, holds, journey, newProfile, note, runJourneys, serve, until } from './kit.mjs';

const leastTarget = 48;

// The mirror's letters are transparent over the picture, so the contrast that axe could read
// from it says nothing; the colour tokens are held to their ratios by the screens' own tests.
async function findings(page) {
  await page.evaluate(axe());
  const result = await page.evaluate(() => window.axe.run(document));
  holds(result.passes.length > 10, 'axe has looked');
  return result.violations.map((rule) => `${rule.id}: ${rule.nodes.map((node) => node.html).join(' ')}`);
}

async function everyPlace(app, page, check) {
  await check('start');
  await app.start();
  await check('session');
  await app.log();
  await page.getByRole('status').filter({ hasText: /^kept/ }).first().waitFor();  // a small page folds the board to the row in hand
  await check('session with a set');
  await app.press('Change');
  await app.get('spinbutton', 'Reps').waitFor();
  await check('change');
  await app.get('spinbutton', 'Reps').fill('101');
  await page.locator('input[aria-invalid="true"]').waitFor();
  await check('change, refused');
  await app.press('Leave as written');
  await app.place('Exchange');
  await check('exchange');
  await app.takeIn({ name: 'holiday.jpg', mimeType: 'image/jpeg', buffer: Buffer.from('ffd8ffe0', 'hex') });
  await page.getByRole('listitem').first().waitFor();
  await check('exchange with a result');
  await app.place('Logbook');
  await check('logbook');
  await app.place('Setup');
  await check('setup');
  await app.place('Session');
  for (const panel of ['Pain', 'Sore']) {
    await app.press(panel);
    await page.getByRole('button', { name: 'To the session' }).first().waitFor();
    await check(panel);
    await app.press('To the session');
  }
  await app.press('Finish');
  await page.getByRole('radio', { name: '5, hard' }).first().waitFor();
  await check('finish');
  await app.get('radio', '5, hard').tap();
  await app.press(/^Finish: effort/);
  await page.getByText('Session finished and kept.').first().waitFor();
  await check('what comes next');
}

journey('axe finds nothing wrong in any place', async (own) => {
  const server = own(await serve());
  const { page } = own(await browse());
  const app = await App.at(page, server.address);
  const wrong = [];
  await everyPlace(app, page, async (place) => wrong.push(...(await findings(page)).map((line) => `${place}: ${line}`)));
  const other = await page.context().newPage();
  await App.at(other, server.address);
  wrong.push(...(await findings(other)).map((line) => `second window: ${line}`));
  equal(wrong, [], 'findings');
});

// Everything that answers, with its box on the page after it was scrolled into sight.
async function boxes(page) {
  return page.evaluate(() => [...document.querySelectorAll('#mirror [data-answers]')].map((element) => {
    element.scrollIntoView({ block: 'nearest' });
    const { left, top, width, height } = element.getBoundingClientRect();
    const hit = document.elementFromPoint(left + width / 2, top + height / 2);
    const name = element.getAttribute('aria-label') || element.textContent;
    return { name, role: element.getAttribute('role') || element.tagName, width, height, hit: hit === element, left, right: left + width };
  }));
}

async function everythingCanBePressed(page, place, width) {
  for (const box of await boxes(page)) {
    const what = `${place}: ${box.role} "${box.name}"`;
    holds(box.hit, `${what} is what a finger on its middle meets`);
    holds(box.left >= -0.5 && box.right <= width + 0.5, `${what} lies on the page`);
    holds(box.height >= leastTarget - 0.5 && box.width >= leastTarget - 0.5, `${what} is ${box.width} x ${box.height}, less than ${leastTarget}`);
  }
}

for (const [width, height] of [[390, 844], [360, 640], [844, 390], [1024, 768]]) {
  journey(`everything that answers can be met and is large enough at ${width} x ${height}`, async (own) => {
    const server = own(await serve());
    const { page } = own(await browse({ width, height }));
    const app = await App.at(page, server.address);
    await everyPlace(app, page, (place) => everythingCanBePressed(page, place, width));
  });
}

journey('text at 200 % is drawn at 200 % and everything still works', async (own) => {
  const server = own(await serve());
  const normal = own(await browse());
  const app = await App.at(normal.page, server.address);
  const before = await app.page.getByRole('heading', { level: 1 }).boundingBox();
  await normal.stop();
  const large = own(await browse({ profile: newProfile({ fontSize: 32 }) }));
  const { page } = large;
  const grown = await App.at(page, server.address);
  const after = await page.getByRole('heading', { level: 1 }).boundingBox();
  note(`the title's line: ${before.height} px, at 200 % ${after.height} px`);
  holds(after.height > before.height * 1.8, `the title's line has grown from ${before.height} to ${after.height}`);
  await everyPlace(grown, page, (place) => everythingCanBePressed(page, place, 390));
});

journey('dark, forced colours and a new text size are followed while the app runs', async (own) => {
  const server = own(await serve());
  const { page } = own(await browse());
  const app = await App.at(page, server.address);
  const picture = async () => (await page.screenshot()).toString('base64');
  const seen = [await picture()];
  const isNew = (what) => until(what, async () => {
    const now = await picture();
    return !seen.includes(now) && seen.push(now);
  });
  await page.emulateMedia({ colorScheme: 'dark' });
  await isNew('the night theme');
  await page.emulateMedia({ colorScheme: 'dark', forcedColors: 'active' });
  await isNew('the forced theme');
  await page.emulateMedia({ colorScheme: 'light', forcedColors: 'none' });
  await page.evaluate(() => { document.documentElement.style.fontSize = '200%'; });
  await isNew('large text');
  await app.start();
});

await runJourneys();
