// The journey of two weeks, played in four browsers with nothing in common: tests/journeys/two_weeks.json says what
// happens. The club's desk is a native store, and holds in the end the same bytes as each browser.
import { cpSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';

import { App, browse, calendar, command, equal, holds, journey, look, newProfile, newStore, note, root, runJourneys, scratch, serve, until } from './kit.mjs';

const story = JSON.parse(readFileSync(join(root, 'tests/journeys/two_weeks.json'), 'utf8'));
const dayMs = 24 * 3600 * 1000;
const msOf = (day) => Date.parse(`${story.first_day}T12:00:00Z`) + (day - 1) * dayMs;
const isoOf = (day) => new Date(msOf(day)).toISOString().slice(0, 10);
// "Thu 5 Nov", as the app writes a day that is neither today nor yesterday.
const wordsOf = (day) => {
  const [weekday, , date, month] = new Date(msOf(day)).toUTCString().split(/,? /).flatMap((word, i) => (i === 0 ? [word, ''] : [word]));
  return `${weekday} ${Number(date)} ${month}`;
};
const ranges = { little: '1 to 2', hurts: '3 to 5', lot: '6 to 10' };  // as the logbook writes a band, too
const bands = { little: 'hurts a little, 1 to 2', hurts: 'hurts, 3 to 5', lot: 'hurts a lot, 6 to 10' };
const capital = (word) => word[0].toUpperCase() + word.slice(1);
const plain = (text) => text.replaceAll(/\s+/g, ' ').trim();  // no-break spaces
const entriesIn = (looked) => looked.ops.map((op) => op.entry).sort();

class Device {
  constructor(own, server, who) {
    Object.assign(this, { own, server, who, person: story.people[who], profile: newProfile() });
    this.role = this.person ? 'swimmer' : 'coach';
  }

  // The page as it is on a day; loaded anew when the day is another one.
  async on(day) {
    if (!this.browser) {
      this.browser = this.own(await browse({ profile: this.profile, width: 600, height: 1400, serviceWorkers: 'block' }));
      await calendar(this.browser.context, () => msOf(this.day) - Date.now());
      this.app = null;
    }
    if (!this.app || this.day !== day) {
      this.day = day;
      this.app = await App.at(this.browser.page, this.server.address);
    }
    return this.app;
  }

  async stop() {
    if (this.browser) await this.browser.stop();
    this.browser = null;
  }

  get page() { return this.browser.page; }

  async texts() {
    await this.app.digests();  // everything told is drawn
    return (await this.page.locator('#mirror').evaluate((mirror) => [...mirror.querySelectorAll('*')]
      .filter((element) => element.childElementCount === 0).map((element) => element.getAttribute('aria-label') || element.textContent))).map(plain).filter(Boolean);
  }

  async setup(row) {
    await this.app.place('Setup');
    await this.app.press(row);
  }

  async be(role) {
    await this.setup(/^Who uses this device/);
    await this.app.get('radio', role === 'coach' ? 'the coach' : 'one swimmer').tap();
    await this.page.getByRole('radio', { name: role === 'coach' ? 'the coach' : 'one swimmer', exact: true, checked: true }).waitFor();
    this.role = role;
  }

  // Whose board and logbook a coach has before her.
  async about(whose) {
    if (!whose || this.role === 'swimmer') return;
    await this.setup(/^Who uses this device/);
    await this.app.get('radio', whose).tap();
    await this.page.getByRole('radio', { name: whose, exact: true, checked: true }).waitFor();
  }

  // The first entry of a day in the logbook whose words begin so.
  async openEntry(day, begins) {
    await this.app.place('Logbook');
    const name = await until(`an entry "${begins}"`, () => this.page.locator('#mirror').evaluate((mirror, [date, start]) => {
      let here = !date;
      for (const element of mirror.querySelectorAll('h1, h2, h3, h4, button')) {
        const words = (element.getAttribute('aria-label') || element.textContent).replaceAll(/\s+/g, ' ');
        if (element.tagName !== 'BUTTON') here = !date || words === date;
        else if (here && words.startsWith(start)) return element.dataset.id;
      }
      return null;
    }, [day ? wordsOf(day) : '', begins]));
    await this.page.locator(`#mirror [data-id="${name}"]`).tap();
  }
}

class Journey {
  constructor(own, server) {
    Object.assign(this, { own, server, devices: {}, files: {}, writers: {}, aside: {}, taken: 0, desk: newStore('desk') });
  }

  device(who) {
    this.devices[who] ||= new Device(this.own, this.server, who);
    return this.devices[who];
  }

  async play(days) {
    for (const { day, steps } of days) {
      for (const [i, step] of steps.entries()) {
        this.day = day;
        const device = step.who && step.who !== 'desk' ? this.device(step.who) : null;
        try {
          if (device && !['break', 'restore', 'put back', 'set aside', 'miss'].includes(step.do)) await device.on(day);
          const act = this[step.who === 'desk' ? `desk ${step.do}` : step.do];
          holds(act, 'the player knows this deed');
          await act.call(this, step, device);
        } catch (error) {
          if (device?.browser) note(`what the page says: ${(await device.texts().catch(() => [])).join(' | ')}`);
          error.message = `day ${day}, step ${i + 1}, ${JSON.stringify(step)}: ${error.message}`;
          error.stack = `${error.message}\n${error.stack}`;
          throw error;
        }
      }
      note(`day ${day} is over`);
    }
  }

  // ---- a swimmer's and a coach's deeds

  async begin(step, { app, person, page }) {
    if (person) return app.start(person.name, String(person.born));
    await app.get('radio', 'the coach').tap();
    await app.press('Start');
    await page.getByRole('tab', { name: 'Squad' }).waitFor();
  }

  async log(step, { app }) {
    await app.place('Session');
    await app.logKeyListens();
    const before = await app.kept();
    for (let set = 1; set <= step.sets; set += 1) {
      const key = await app.logKeyListens();
      if (step.reps === undefined) {
        await key.tap();
      } else {
        await app.press('Change');
        await app.get('spinbutton', 'Reps').fill(String(step.reps));
        await app.press(new RegExp(`^Log ${step.reps}`));
      }
      await app.keptAre(before + set);
    }
  }

  setWords({ exercise, round }) { return `${story.moves[exercise]}, round ${round}`; }

  async change(step, device) {
    await device.about(step.whose);
    await device.openEntry(step.on, 'Dryland');
    await device.app.press(`Change ${this.setWords(step)}`);
    await device.app.get('spinbutton', 'Reps').fill(String(step.reps));
    await device.app.press(new RegExp(`^Log ${step.reps}`));
    await until('what it is now and what it was', async () => (await device.texts()).some((text) => text.startsWith(`${this.setWords(step)}: ${step.reps}, was `)));
  }

  async 'take back'(step, device) {
    await device.openEntry(step.on, 'Dryland');
    await device.app.unhurried();
    await device.app.press(`Take back ${this.setWords(step)}`);
    await device.app.said(/^Taken back/);
  }

  async pain(step, { app }) {
    await app.place('Session');
    await app.press('Pain');
    await app.get('gridcell', `${capital(step.part)}, ${bands[step.band]}`).tap();
    await app.said(/^Kept/);
    await app.press('To the session');
  }

  async 'pain over'(step, device) {
    await device.openEntry(0, capital(step.part));
    await device.app.press(`It is over: ${capital(step.part)}`);
    await device.app.said(/^Kept: it is over/);
    await device.openEntry(0, capital(step.part));  // folded again
  }

  async be(step, device) { await device.be(step.as); }

  async lookAt({ app, page }, whose) {
    await app.place('Squad');
    const back = app.get('button', 'Back to the squad');
    const row = app.get('button', new RegExp(`^${whose}, |^${whose}\\. `));
    await row.or(back).first().waitFor();
    if (await back.count() === 0) await row.tap();
    await page.getByRole('heading', { name: whose, exact: true }).waitFor();
  }

  async 'own dose'(step, device) {
    const { app, page } = device;
    await this.lookAt(device, step.whose);
    await app.press(new RegExp(`^Overrule: ${story.moves[step.exercise]}`));
    await app.get('radio', 'My own dose').tap();
    await app.get('textbox', 'Load, kg').or(app.get('spinbutton', 'Load, kg')).fill(step.load);
    await page.getByLabel('Why, in a few words').fill(step.why);
    await app.press('Keep this');
    await app.said(/^Kept\. What the rule said/);
    await app.press('Back to the squad');
  }

  async choose(step, { app }) {
    await app.place('Exchange');
    await app.unhurried();
    await app.press(new RegExp(`^Use line [A-Z], ${step.value}\\skg$`));
    await app.said(new RegExp(`^Kept: ${step.field} is ${step.value}\\skg`));
  }

  async answer(step, { app }) {
    await app.place('Exchange');
    await app.unhurried();
    await app.press(step.with === 'keep' ? 'Keep it' : 'Take it away');
    await app.said(/^Kept: what is to be/);
  }

  // ---- files

  fileMade(step, file) {
    holds(!this.files[step.file], 'each file has its own name');
    this.files[step.file] = file;
    return file;
  }

  look(file) { return look(this.files[file]); }

  async 'hand over'(step, { app, role }) {
    await app.place('Exchange');
    if (role === 'coach') await app.forEverybody();
    this.fileMade(step, await app.handOver('Hand over'));
    const looked = this.look(step.file);
    const known = (this.writers[step.who] ||= []);
    if (step.writer === 'new') holds(!known.includes(looked.incarnation), 'it writes under a new mark');
    else if (known.length > 0) equal(looked.incarnation, known.at(-1), 'the mark it writes under');
    known.push(looked.incarnation);
    if (!step['asks for']) return;
    for (const one of this.look(step['asks for']).ops) {
      const { ranges } = looked.holdings.find((held) => held.athlete === one.athlete && held.incarnation === one.incarnation);
      holds(!inRanges(one.seq, ranges), `${one.entry} is asked for: it says ${ranges}`);
    }
  }

  async 'take in'(step, device) {
    const { app } = device;
    const before = step.new ? null : await app.digests();
    await app.place('Exchange');
    const sentence = plain(await this.given(step, device));
    equal(sentence.includes(': new. '), step.new, `brings something: ${sentence}`);
    holds(!sentence.includes('refused') && !sentence.includes('Two devices wrote as one'), `neither refused nor a fork: ${sentence}`);
    equal(sentence.includes('Entries made before a restore have come back.'), Boolean(step['own past']), `entries of its own past: ${sentence}`);
    equal(sentence.includes('Missing: '), 'lacks' in step, `a hole is named: ${sentence}`);
    if (before) equal(await app.digests(), before, 'nothing new changes nothing');
    if (!step.brings) return;
    const inside = new Set(entriesIn(this.look(step.file)));
    holds(entriesIn(this.look(step.brings)).every((entry) => inside.has(entry)), `all of ${step.brings} is in it`);
  }

  // Through the app's own file key, under a name of its own; answers what is said of it.
  async given(step, { app, page }) {
    this.taken += 1;
    const name = `${step.file}-${this.taken}.file`;
    await app.takeIn(scratch(name, readFileSync(this.files[step.file])));
    const row = page.getByRole('listitem').filter({ hasText: `${name}: ` });
    const yes = page.getByRole('button', { name: `Take in ${name}` });  // asked where it brings somebody else to a swimmer's device
    await row.or(yes).first().waitFor();
    if (await yes.count()) await app.press(`Take in ${name}`);
    await row.first().waitFor();
    return row.first().textContent();
  }

  async miss(step) { holds(this.files[step.file], 'there was a file'); }

  // ---- what happens to a device

  async 'back up'(step, device) {
    await device.setup(/^Copies/);
    this.fileMade(step, await device.app.handOver('Make a backup'));
    await device.app.said(/^The backup is made/);
  }

  async break(step, device) {
    await device.stop();
    rmSync(device.profile, { recursive: true, force: true, maxRetries: 5 });
    delete this.devices[step.who];
  }

  async restore(step) {
    const device = this.device(step.who);
    const app = await device.on(this.day);
    await app.get('button', 'Start').waitFor();
    this.taken += 1;
    const name = `${step.file}-${this.taken}.zip`;
    await app.takeIn(scratch(name, readFileSync(this.files[step.file])));
    await app.get('tab', 'Exchange').waitFor();
    await app.place('Exchange');
    const sentence = plain(await device.page.getByRole('listitem').filter({ hasText: `${name}: ` }).first().textContent());
    holds(sentence.includes('this device holds just what it holds. Checked.'), `what came back: ${sentence}`);
    await app.place('Session');  // the backup holds the others too
    await until('it is its owner\'s again', async () => (await device.texts()).some((text) => text.startsWith(`${device.person.name} · `)));
  }

  async 'set aside'(step, device) {
    await device.stop();
    this.aside[step.who] = newProfile();
    cpSync(device.profile, this.aside[step.who], { recursive: true });
  }

  // Nothing is left that could tell: only a bundle can.
  async 'put back'(step, device) {
    await device.stop();
    rmSync(device.profile, { recursive: true, force: true, maxRetries: 5 });
    cpSync(this.aside[step.who], device.profile, { recursive: true });
  }

  // ---- what is seen

  async see(step, device) {
    await device.app.place('Exchange');
    const many = (count, word) => `${count} ${word}${count === 1 ? '' : 's'}`;
    const words = `A bundle holds ${many(step.sets, 'set')}, ${many(step.sessions, 'session')}.`;
    await until(words, async () => (await device.texts()).includes(words));
  }

  async 'see pain'(step, device) {
    await device.about(step.whose);
    await device.app.place('Logbook');
    const all = await device.texts();
    equal(all.filter((text) => text === 'Show older days').length, 0, 'days that are folded away');
    const seen = all.filter((text) => Object.values(ranges).some((range) => text.includes(`, ${range}`)));
    equal(seen.length, step.pains.length, `pains, of ${seen}`);
    for (const [part, band, state] of step.pains) {
      const entry = seen.find((text) => text.startsWith(`${capital(part)}, `));
      holds(entry, `${part} is there: ${seen}`);
      equal(entry.endsWith(' over.'), state === 'over', `${entry}: over`);
      await device.openEntry(0, entry);
      // What it was stays in sight, struck through.
      const line = await until('its line', async () => (await device.texts()).find((text) => text.startsWith(`${capital(part)}: `)));
      const was = /, was (.*)$/.exec(line);
      equal(Boolean(was), state === 'over', `${line}: struck through`);
      holds(line.includes(state === 'over' ? ': over, was ' : ': '), line);
      holds((was ? was[1] : line).endsWith(ranges[band]), `${line}: how much it hurt`);
      await device.openEntry(0, entry);
    }
  }

  async 'see missing'(step, device) {
    await device.app.place('Exchange');
    const lines = (await device.texts()).map((text) => /^(.+): (\d+) (?:entry|entries) of device ([0-9a-f]+)/.exec(text)).filter(Boolean);
    if (step.of === null) return equal(lines.length, 0, 'what is missing');
    const lost = this.look(step.of).ops;
    equal(lines.map(([, who]) => who), lines.map(() => step.whose), 'whose entries');
    equal(lines.reduce((sum, [, , count]) => sum + Number(count), 0), lost.length, 'the hole is named whole');
    holds(lines.every(([, , , device8]) => lost.some((op) => op.incarnation.startsWith(device8))), 'and by whose it is');
    return undefined;
  }

  async 'see twice'(step, device) {
    await device.app.place('Exchange');
    const texts = await device.texts();
    const values = texts.map((text) => /^Use line [A-Z], (.+) kg$/.exec(text)).filter(Boolean).map(([, value]) => value).sort();
    equal(values, step.values, 'the values that can be chosen');
    equal(texts.filter((text) => text === 'One line, written twice').length, step.values.length > 0 ? 1 : 0, 'lines written twice');
    if (step.values.length === 0) return;
    holds(texts.some((text) => text.startsWith(`${step.whose} · ${story.moves[step.exercise]}`) && text.includes(` · ${step.field} · `)), `which line, of ${texts}`);
    holds(texts.includes(`Until then this counts: ${step.meanwhile} kg. All lines stay in the record.`), `which counts meanwhile, of ${texts}`);
    if (device.role !== 'coach') return;
    await this.lookAt(device, step.whose);
    await until('it is written for the next session', async () =>
      (await device.texts()).some((text) => text.startsWith(story.moves[step.exercise]) && text.includes(`${step.meanwhile} kg`)));
    await device.app.press('Back to the squad');
  }

  async 'see came back'(step, device) {
    await device.app.place('Exchange');
    const texts = await device.texts();
    equal(texts.filter((text) => text === 'Changed while it was taken away').length, step.count, `what came back, of ${texts}`);
    if (step.count > 0) holds(texts.some((text) => text.startsWith(`${step.whose} · ${story.moves[step.exercise]}`)), `which, of ${texts}`);
  }

  async digestsOf(who) {
    if (who !== 'desk') return (await this.device(who).on(this.day)).digests();
    const checked = command(this.desk, 'check');
    equal(checked.findings, [], 'findings');
    return `${checked.digests.ops} ${checked.digests.views}`;
  }

  async 'hold the same'(step) {
    const seen = {};
    for (const who of step.all) seen[who] = await this.digestsOf(who);
    equal(new Set(Object.values(seen)).size, 1, `records, by digests: ${JSON.stringify(seen)}`);
  }

  // ---- the desk, which is never a browser

  at() { return ['--at', `${isoOf(this.day)}T12:30:00+00:00`]; }

  async 'desk take in'(step) {
    const report = command(this.desk, ...this.at(), 'bundle', 'merge', this.files[step.file]).files[0];
    equal([report.refused, report.forks, report.missing], [false, 0, []], 'refused, forks, missing');
    equal(report.fresh > 0, step.new, `brings something: ${report.fresh} new, ${report.known} known`);
  }

  async 'desk make'(step) {
    const newest = Object.keys(this.files).filter((name) => name.startsWith(step.for)).at(-1);
    const file = this.fileMade(step, join(this.desk, '..', `${step.file}.slip`));
    command(this.desk, ...this.at(), 'bundle', 'make', '--out', file, '--to', this.look(newest).device);
    const made = entriesIn(this.look(step.file));
    holds(made.length > 0 && made.length < command(this.desk, 'check').ops, `${made.length} entries: only what is lacking`);
    if (step.just) equal(made, entriesIn(this.look(step.just)), 'just what is asked for');
  }

  async 'desk hold the end'() {
    const all = command(this.desk, 'athlete', 'list').athletes.map((one) => command(this.desk, 'athlete', 'show', one.name));
    equal(all.map((one) => one.name.value).sort(), Object.keys(story.end).sort(), 'who is there');
    for (const one of all) {
      const [is, should] = [endOf(one), story.end[one.name.value]];
      for (const part of new Set([...Object.keys(is), ...Object.keys(should)])) equal(is[part], should[part], `${one.name.value}, ${part}`);
    }
  }
}

function inRanges(seq, ranges) {
  return ranges.split(',').map((span) => span.trim()).filter(Boolean).some((span) => {
    const ends = span.split('..').map(Number);
    return seq >= ends[0] && seq <= ends.at(-1);
  });
}

const setWords = (one) => `${one.exercise} ${one.round}: ${one.reps.value}${one.load.value ? ` at ${one.load.value.typed}` : ''}`;

// What the record says in the end, in words that do not depend on ids.
function endOf(athlete) {
  const dayOf = (session) => String(Math.round((Date.parse(session.day.value) - Date.parse(story.first_day)) / dayMs) + 1);
  const names = Object.keys(bands);
  return {
    sessions: Object.fromEntries(athlete.sessions.filter((session) => session.sets.length > 0).map((session) => [dayOf(session), session.sets.map(setWords)])),
    'taken back': athlete.taken_back.map(setWords),
    pains: athlete.pains.map((one) => [one.region, names[one.band - 1], one.withdrawn ? 'a slip' : one.resolved ? 'over' : 'stands']),
    loads: Object.fromEntries(athlete.plan.filter((line) => line.counts.load).map((line) => [line.counts.exercise, line.counts.load.typed]).sort()),
    'written twice': athlete.contradictions.length,
    'came back': athlete.came_back.length,
  };
}

journey('three swimmers and a coach in four browsers, two weeks of lost, late, doubled and restored files: in the end all hold the same, and the native desk too', async (own) => {
  const server = own(await serve());
  const played = new Journey(own, server);
  await played.play(story.days);
  note(`${story.days.reduce((sum, { steps }) => sum + steps.length, 0)} steps, ${Object.keys(played.files).length} files`);
});

await runJourneys();
