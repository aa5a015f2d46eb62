// Firefox for the journeys that hold the store to its word there too: a profile, a process that can be killed, and a page
// driven by scripts. Speaks Marionette, the protocol Firefox has built in: length-prefixed JSON over a local socket.
//
//   FIREFOX   the browser (/usr/bin/firefox-esr)
//
// It is shown on a virtual screen and drawn by software: headless Firefox has no WebGL.
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { connect } from 'node:net';
import { join } from 'node:path';
import { until } from './kit.mjs';

const firefoxFile = process.env.FIREFOX || '/usr/bin/firefox-esr';
export const hasFirefox = existsSync(firefoxFile);

const preferences = {
  'marionette.port': 0, 'browser.shell.checkDefaultBrowser': false, 'browser.startup.page': 0, 'browser.aboutwelcome.enabled': false,
  'datareporting.policy.dataSubmissionEnabled': false, 'toolkit.telemetry.enabled': false, 'app.update.enabled': false,
  'browser.sessionstore.resume_from_crash': false, 'toolkit.startup.max_resumed_crashes': -1, 'network.captive-portal-service.enabled': false,
  'network.connectivity-service.enabled': false, 'services.settings.server': 'data:,', 'extensions.update.enabled': false,
  'browser.safebrowsing.malware.enabled': false, 'browser.safebrowsing.phishing.enabled': false, 'webgl.force-enabled': true,
  'datareporting.healthreport.uploadEnabled': false, 'browser.newtabpage.enabled': false, 'dom.disable_beforeunload': true,
};

function writePreferences(profile) {
  mkdirSync(profile, { recursive: true });
  const lines = Object.entries(preferences).map(([name, value]) => `user_pref(${JSON.stringify(name)}, ${JSON.stringify(value)});`);
  writeFileSync(join(profile, 'user.js'), `${lines.join('\n')}\n`);
}

class Marionette {
  static async at(port) {
    const socket = await new Promise((done, failed) => {
      const opening = connect(port, '127.0.0.1', () => done(opening));
      opening.once('error', failed);
    });
    const client = new Marionette(socket);
    await client.call('WebDriver:NewSession', { capabilities: { alwaysMatch: { pageLoadStrategy: 'none' } } });
    await client.call('WebDriver:SetTimeouts', { script: 60000, pageLoad: 60000 });
    return client;
  }

  constructor(socket) {
    this.socket = socket;
    this.waiting = new Map();
    this.count = 0;
    this.heard = Buffer.alloc(0);
    socket.on('data', (bytes) => this.hear(bytes));
    socket.on('close', () => this.waiting.forEach(({ failed }) => failed(new Error('the browser is gone'))));
    socket.on('error', () => {});
  }

  hear(bytes) {
    this.heard = Buffer.concat([this.heard, bytes]);
    for (;;) {
      const colon = this.heard.indexOf(':');
      const length = Number(this.heard.subarray(0, colon));
      if (colon < 0 || this.heard.length < colon + 1 + length) return;
      const message = JSON.parse(this.heard.subarray(colon + 1, colon + 1 + length));
      this.heard = this.heard.subarray(colon + 1 + length);
      if (!Array.isArray(message)) continue;  // the greeting
      const [, id, error, result] = message;
      const { done, failed } = this.waiting.get(id) || {};
      this.waiting.delete(id);
      if (error) failed?.(new Error(`${error.error}: ${error.message}`));
      else done?.(result);
    }
  }

  call(name, parameters = {}) {
    this.count += 1;
    const id = this.count;
    const text = Buffer.from(JSON.stringify([0, id, name, parameters]));
    return new Promise((done, failed) => {
      this.waiting.set(id, { done, failed });
      this.socket.write(Buffer.concat([Buffer.from(`${text.length}:`), text]));
    });
  }
}

export async function firefox(profile) {
  writePreferences(profile);
  const portFile = join(profile, 'MarionetteActivePort');
  rmSync(portFile, { force: true });
  const child = spawn('xvfb-run', ['-a', '-s', '-screen 0 500x1000x24', firefoxFile, '--marionette', '--remote-allow-system-access', '--no-remote',
    '--new-instance', '--width', '460', '--height', '950', '--profile', profile, 'about:blank'],
  { stdio: 'ignore', detached: true, env: { ...process.env, LIBGL_ALWAYS_SOFTWARE: '1', MOZ_CRASHREPORTER_DISABLE: '1' } });
  const gone = new Promise((exits) => child.once('exit', exits));
  let over = false;
  gone.then(() => { over = true; });
  const port = await until('Firefox listens', () => existsSync(portFile) && Number(readFileSync(portFile, 'utf8')), { ms: 60000 });
  const client = await Marionette.at(port);
  // The answer of a function that runs in the page; it may be a promise.
  const run = async (code, ...given) => {
    const script = `const [given, done] = arguments; (async () => (${code})(...given))().then((value) => done({ value }), (error) => done({ error: String(error) }));`;
    const { value } = await client.call('WebDriver:ExecuteAsyncScript', { script, args: [given], newSandbox: false, sandbox: null });
    if (value.error) throw new Error(value.error);
    return value.value;
  };
  const kill = () => { if (!over) process.kill(-child.pid, 'SIGKILL'); };  // all its processes and the screen at once
  return {
    goto: (address) => client.call('WebDriver:Navigate', { url: address }),
    run: (code, ...given) => run(String(code), ...given),
    kill,
    gone: () => gone,
    stop: async () => {
      kill();
      await gone;
    },
  };
}
