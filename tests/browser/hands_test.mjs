// A set, logged in three ways: by role and name, by the keyboard alone, and with nothing drawn.
import { App, browse, equal, holds, journey, runJourneys, serve, until } from './kit.mjs';

async function opened(own, query) {
  const server = own(await serve());
  const browser = own(await browse());
  const app = await App.at(browser.page, server.address, query);
  return { app, page: browser.page, browser };
}

// One set as written, one changed by stepper, choice and typed number, one taken back.
async function aWholeSession(app) {
  await app.start('Wren');
  await app.press('Change');
  const reps = app.get('spinbutton', 'Reps');
  await reps.waitFor();
  equal(await reps.getAttribute('inputmode'), 'numeric', 'the number field opens the number pad');
  await app.press('Fewer reps');
  await until('seven reps', async () => (await reps.inputValue()) === '7');
  equal(await reps.getAttribute('aria-valuenow'), '7', 'what a screen reader hears of it');
  await reps.fill('9');
  await app.get('radio', '10 kilograms').tap();
  await app.get('radio', '1 in reserve').tap();
  await app.press(/^Log 9 × 10 kg/);
  await app.keptAre(1);
  await app.get('gridcell', /^A1 goblet squat, round 1: did 9 at 10 kilograms, written 8.*changed, kept$/).waitFor();
  await app.log();
  await app.keptAre(2);
  await app.log();
  await app.keptAre(3);
  await app.press('A3 back');
  await app.keptAre(2);
}

journey('a set is logged, changed and taken back by role and name', async (own) => {
  const { app, browser } = await opened(own);
  await aWholeSession(app);
  equal(browser.trouble, [], 'errors of the page');
});

journey('with drawing switched off everything still works and nothing is drawn', async (own) => {
  const { app, page } = await opened(own, '?test=1&draw=off');
  await aWholeSession(app);
  const blank = await page.evaluate(async () => {
    const picture = await createImageBitmap(document.getElementById('picture'));
    const copy = new OffscreenCanvas(picture.width, picture.height).getContext('2d');
    copy.drawImage(picture, 0, 0);
    return copy.getImageData(0, 0, picture.width, picture.height).data.every((byte) => byte === 0);
  });
  holds(blank, 'the canvas is blank');
});

// --- the keyboard alone ---------------------------------------------------------------------------

const focused = (page) => page.evaluate(() => {
  const element = document.activeElement;
  const name = element === document.body ? '' : (element.getAttribute('aria-label') || element.textContent);
  return name.replaceAll(/\s+/g, ' ');  // no-break spaces
});

async function tabTo(page, name) {
  const seen = [];
  for (let stops = 0; stops < 40; stops += 1) {
    await page.keyboard.press('Tab');
    const now = await focused(page);
    if (now.match(name)) return;
    seen.push(now);
  }
  throw new Error(`no stop of Tab is ${name}; seen: ${seen.join(' | ')}`);
}

const focusIs = (page, name) => until(`the focus is on ${name}`, async () => (await focused(page)).match(name));

journey('the keyboard alone starts, logs, changes and mends', async (own) => {
  const { app, page } = await opened(own);
  await tabTo(page, /^Name or nickname/);
  await page.keyboard.type('Wren');
  await tabTo(page, /^Year of birth/);
  await page.keyboard.type('1991');
  await tabTo(page, /^Start$/);
  await page.keyboard.press('Enter');
  await app.get('grid', /whiteboard/i).waitFor();

  await tabTo(page, /^Log as written/);
  await page.keyboard.press('Enter');
  await app.keptAre(1);

  // The panel takes the focus when it comes and gives it back when it goes.
  await tabTo(page, /^Change$/);
  await page.keyboard.press('Space');
  await focusIs(page, /^Fewer reps$/);
  await tabTo(page, /^Reps$/);
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowUp');
  const reps = app.get('spinbutton', 'Reps');
  await until('ten reps', async () => (await reps.inputValue()) === '10');
  await page.keyboard.press('PageDown');
  await until('five reps', async () => (await reps.inputValue()) === '5');
  await page.keyboard.press('Control+a');
  await page.keyboard.type('11');
  await until('eleven reps', async () => (await reps.getAttribute('aria-valuenow')) === '11');

  // A choice is one stop; arrows choose, a digit chooses that number.
  await tabTo(page, /^thick band$/);
  await page.keyboard.press('ArrowRight');
  await focusIs(page, /^medium band$/);
  await page.getByRole('radio', { name: 'medium band', checked: true }).waitFor();
  await page.keyboard.press('Tab');
  await focusIs(page, /in reserve$/);
  await page.keyboard.press('3');
  await page.getByRole('radio', { name: '3 in reserve', checked: true }).waitFor();
  await tabTo(page, /^Log 11 × medium band/);
  await page.keyboard.press('Enter');
  await app.keptAre(2);
  await focusIs(page, /^Change$/);

  // Ctrl+Enter works the main key from anywhere, Ctrl+Z takes the last entry back.
  await app.logKeyListens();
  await page.keyboard.press('Control+Enter');
  await app.keptAre(3);
  await page.keyboard.press('Control+z');
  await app.keptAre(2);

  // The board is one stop with arrows inside; a kept cell opens for mending; Escape closes.
  await tabTo(page, /^A3 .*, round 1/);
  await page.keyboard.press('ArrowUp');
  await page.keyboard.press('ArrowUp');
  await focusIs(page, /^A1 .*round 1: 8 at 8 kilograms, as written, kept$/);
  await page.keyboard.press('Enter');
  await app.get('group', 'A1, round 1: what was done').waitFor();
  await page.keyboard.press('Escape');
  await app.get('group', 'A1, round 1: what was done').waitFor({ state: 'detached' });

  await tabTo(page, /^Session$/);
  await page.keyboard.press('ArrowRight');
  await focusIs(page, /^Logbook$/);
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Logbook', level: 1 }).waitFor();
});

journey('a number that is none is refused beside the field, and the entry stays', async (own) => {
  const { app, page } = await opened(own);
  await app.start();
  await app.press('Change');
  const reps = app.get('spinbutton', 'Reps');
  await reps.fill('101');
  await page.locator('input[role="spinbutton"][aria-invalid="true"]').waitFor();
  await page.getByText('Reps must be a whole number from 0 to 100.').first().waitFor();
  equal(await reps.inputValue(), '101', 'what was typed stands');
  const drawn = async () => {
    await app.digests();  // everything told is drawn
    return (await page.screenshot({ clip: await reps.boundingBox() })).toString('base64');
  };
  const first = await drawn();
  await reps.fill('102');
  await until('the picture shows what was typed, too', async () => (await drawn()) !== first);
  await reps.fill('12');
  await page.locator('input[role="spinbutton"]:not([aria-invalid])').waitFor();
  await app.press(/^Log 12 × 8 kg/);
  await app.keptAre(1);
});

journey('a key that is held steps again and again, and its release is no further step', async (own) => {
  const { app, page } = await opened(own);
  await app.start();
  await app.press('Change');
  const reps = app.get('spinbutton', 'Reps');
  await reps.waitFor();
  const box = await app.get('button', 'More reps').boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await until('the held key has stepped by itself', async () => Number(await reps.inputValue()) >= 11);
  await page.mouse.up();
  // What was on its way when the hand went up may still arrive; then the number rests.
  let before = '';
  await until('the number rests', async () => {
    const now = await reps.inputValue();
    const rests = now === before;
    before = now;
    return rests;
  }, { every: 400 });
  const rested = Number(before);
  await app.press('More reps');
  await until('one tap is one step', async () => Number(await reps.inputValue()) === rested + 1);
});

journey('a drag that begins on a key scrolls the page and presses nothing', async (own) => {
  const server = own(await serve());
  const { context, page } = own(await browse({ width: 360, height: 480 }));
  const app = await App.at(page, server.address);
  await app.start();
  await app.press('Change');
  const reps = app.get('spinbutton', 'Reps');
  await reps.waitFor();
  const key = app.get('button', 'More reps');
  await key.scrollIntoViewIfNeeded();
  const scrolled = () => page.locator('#mirror .area').first().evaluate((area) => area.scrollTop);
  const before = await scrolled();
  const box = await key.boundingBox();
  const session = await context.newCDPSession(page);
  const x = box.x + box.width / 2;
  const y = box.y + box.height / 2;
  const finger = (type, to) => session.send('Input.dispatchTouchEvent', { type, touchPoints: type === 'touchEnd' ? [] : [{ x, y: to }] });
  // Sent at one go: a finger that rests on the key for long makes it repeat, as it should.
  const moves = [finger('touchStart', y)];
  for (let up = 20; up <= 120; up += 20) moves.push(finger('touchMove', y - up));
  await Promise.all([...moves, finger('touchEnd')]);
  await until('the page has scrolled', async () => (await scrolled()) > before + 50);
  await app.digests();  // everything told is done
  equal(await reps.inputValue(), '8', 'reps after the drag');
  await key.tap();
  await until('a tap still presses', async () => (await reps.inputValue()) === '9');
});

await runJourneys();
