// Ten swimmers, ten browsers with nothing in common; the coach merges their ten bundles natively. Each history is
// logged through the app itself, on the days it says; the list of who needs the coach is what it demands
// [handbook 6.9], in order.
import { join } from 'node:path';

import { App, browse, command, equal, holds, journey, newStore, note, runJourneys, serve, until } from './kit.mjs';

const dayMs = 24 * 3600 * 1000;

// The same browser on another day: the app's worker, which is where its clock is, is served with its calendar moved.
class Phone {
  static async of(own, server, name, born) {
    const phone = new Phone();
    phone.browser = own(await browse({ serviceWorkers: 'block' }));
    phone.address = server.address;
    phone.daysAgo = 0;
    await phone.browser.context.route('**/worker.js', async (route) => {
      const answer = await route.fetch();
      const moved = `{ const Real = Date, by = -${phone.daysAgo * dayMs};
        globalThis.Date = class extends Real {
          constructor(...from) { if (from.length) super(...from); else super(Real.now() + by); }
          static now() { return Real.now() + by; }
        }; }`;
      await route.fulfill({ response: answer, body: `${moved}\n${await answer.text()}` });
    });
    phone.name = name;
    phone.born = String(born);
    return phone;
  }

  async on(daysAgo) {
    this.daysAgo = daysAgo;
    this.app = await App.at(this.browser.page, this.address);
    if (!this.started) await this.app.start(this.name, this.born);
    this.started = true;
    return this.app;
  }

  async fine() { await this.app.press('Nothing hurts, not sore'); }

  // The next set with fewer repetitions than written.
  async fewer(by) {
    await this.app.logKeyListens();
    await this.app.press('Change');
    for (let i = 0; i < by; i += 1) await this.app.press('Fewer reps');
    await this.app.press(/^Log \d+/);
    await this.app.get('button', 'Change').waitFor();
  }

  async pain(square) {
    await this.app.press('Pain');
    await this.app.get('gridcell', square).tap();
    await this.app.press('To the session');
  }

  async next() { return (await this.app.cells()).find((name) => name.endsWith(', next')) || ''; }

  // Every set that is left: as written, but squats by `squats`.
  async allSets(squats) {
    for (let next = await this.next(); next; next = await this.next()) {
      await this.app.logKeyListens();
      if (squats && / squat, /.test(next)) await squats();
      else await this.app.log();
      await until('the next set', async () => (await this.next()) !== next);
    }
    await this.app.finish(5);
  }

  async handOver() {
    await this.app.place('Exchange');
    return this.app.handOver('Hand over');
  }
}

const year = new Date().getFullYear();

journey('ten browsers hand over, the coach merges natively, and the list is what ten histories demand, in order', async (own) => {
  const server = own(await serve());
  const coach = newStore('coach'), other = newStore('other');
  const bundles = [];
  const swimmer = async (name, born, history) => {
    const phone = await Phone.of(own, server, name, born);
    await history(phone);
    bundles.push(await phone.handOver());
    await phone.browser.stop();
  };

  await swimmer('Sol', year - 29, async (phone) => {          // W09: nothing for 10 days, though two a week are planned
    const app = await phone.on(13);
    await app.log();
    await app.keptAre(1);
    await phone.on(0);
  });
  await swimmer('Tam', year - 24, async (phone) => {          // W08: squats below the range in two sessions that count
    for (const ago of [7, 4, 0]) {  // A, B, A: goblet squats in the first and the last
      await phone.on(ago);
      await phone.fine();
      if (ago !== 4) await phone.allSets(() => phone.fewer(3));
      else await phone.app.log();
    }
  });
  await swimmer('Ash', year - 31, async (phone) => {          // W01: a warning sign
    const app = await phone.on(0);
    await app.press('Pain');
    await app.press('Chest pain, faint, head knock, numb');
    await app.get('checkbox', 'Fainted, or nearly').tap();
    await app.said(/fainted/i);
    await phone.browser.page.getByText('Stop').first().waitFor();
    await phone.on(0);
  });
  await swimmer('Wren', year - 34, async (phone) => {         // nothing: a session as written
    await phone.on(0);
    await phone.fine();
    await phone.allSets();
  });
  await swimmer('Moth', year - 22, async (phone) => {         // W02: a shoulder that hurts, not settled
    for (const ago of [1, 0]) {
      await phone.on(ago);
      await phone.pain('Shoulder, hurts, 3 to 5');
    }
  });
  await swimmer('Fern', year - 40, async (phone) => {         // W05: legs sore for six days
    const app = await phone.on(0);
    await app.press('Sore');
    await app.get('gridcell', /^Legs, .*5/).tap();
    await until('the days are asked for', () => app.get('button', /More days|One day more/).count());
    await app.press(/More days|One day more/);
    await app.press('To the session');
  });
  await swimmer('Juno', year - 16, async (phone) => {         // W06: took more than was written, under 18
    const app = await phone.on(1);  // before Odd's two years of birth: of two rows alike the older comes first
    await app.press(/^An adult is in the room/);
    await app.get('radio', 'Coach').tap();
    await phone.fine();
    await phone.allSets(async () => {
      await app.press('Change');
      const loads = app.get('radiogroup', /^Load/).getByRole('radio');
      const names = await loads.allTextContents();
      await loads.nth(names.length - 1).tap();
      await app.press(/^Log \d+/);
    });
  });
  await swimmer('Bryn', year - 27, async (phone) => {         // nothing: a little pain, the same dose goes on [R03]
    await phone.on(0);
    await phone.pain(/^Knee, .*1 to 2$/);
  });
  await swimmer('Lark', year - 61, async (phone) => {         // nothing: one set, then home; short for want of time
    const app = await phone.on(0);
    await app.log();
    await app.keptAre(1);
  });
  // Odd writes his year of birth anew while the coach, who has only his first bundle, writes another: written twice.
  const odd = await Phone.of(own, server, 'Odd', year - 25);
  let app = await odd.on(0);
  await app.log();
  await app.keptAre(1);
  const first = await odd.handOver();
  equal(command(coach, 'bundle', 'merge', first).refused, 0, 'the coach has the first bundle');
  command(coach, 'athlete', 'set', 'Odd', 'born', year - 26);
  await app.place('Setup');
  await app.press(/^Facts/);
  await app.get('textbox', /year of birth/i).fill(String(year - 24));
  await app.press('Keep these facts');
  await app.said(/Kept/);
  bundles.push(await odd.handOver());
  await odd.browser.stop();

  equal(bundles.length, 10, 'bundles');
  const merged = command(coach, 'bundle', 'merge', ...bundles);
  equal([merged.refused, merged.contradictions], [0, 1], 'refused, and written twice');
  equal(command(coach, 'bundle', 'merge', ...bundles).files.map((file) => file.fresh), bundles.map(() => 0), 'again: nothing new');
  // Another desk takes them in the other order; what the coach wrote travels there too.
  const back = join(newStore('carried'), 'coach.slip');
  command(coach, 'bundle', 'make', '--athlete', 'Odd', '--out', back);
  command(other, 'bundle', 'merge', back, ...[...bundles].reverse());
  equal(command(other, 'check').digests, command(coach, 'check').digests, 'the same bytes in any order');

  const list = command(coach, 'squad').needs_the_coach.map((line) => [line.athlete.name, line.facts[0].row]);
  note(list.map(([who, row]) => `${who} ${row}`).join(', '));
  equal(list, [['Ash', 'W01'], ['Moth', 'W02'], ['Fern', 'W05'], ['Juno', 'W06'], ['Odd', null], ['Tam', 'W08'], ['Sol', 'W09']], 'who needs the coach');
});

await runJourneys();
