// A second opener of sealed files, written from the description of the form alone (core/sync/seal.h, keys.h, signature.h)
// on an implementation of the primitives that shares no line with the program's (noble, see README).
//
//   node seal_opener.mjs FILE --sheet SHEET --out INSIDE       with a coach's recovery sheet
//   node seal_opener.mjs FILE --passphrase TEXT --out INSIDE
//   node seal_opener.mjs FILE --open                           a bundle that is not sealed: its signature alone
//
// Writes the bundle that was inside and prints one JSON object about it; ends with 3 and a word about why if anything is not so.
import { createRequire } from 'node:module';
import { readFileSync, writeFileSync } from 'node:fs';

const require = createRequire(import.meta.url);
const { blake2b } = require('@noble/hashes/blake2b');
const { argon2id } = require('@noble/hashes/argon2');
const { x25519, ed25519 } = require('@noble/curves/ed25519');
const { hsalsa, xsalsa20poly1305 } = require('@noble/ciphers/salsa');
const { chacha20, hchacha } = require('@noble/ciphers/chacha');
const { poly1305 } = require('@noble/ciphers/_poly1305');

const bytesOf = (text) => new TextEncoder().encode(text);
const join = (...parts) => Uint8Array.from(Buffer.concat(parts.map((part) => Buffer.from(part))));
const hash = (...parts) => blake2b(join(...parts), { dkLen: 32 });
const keyed = (key, ...parts) => blake2b(join(...parts), { dkLen: 32, key });
const words = (bytes) => new Uint32Array(Uint8Array.from(bytes).buffer);
const same = (a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b)) === 0;
const expect = (truth, what) => { if (!truth) throw new Error(what); };
const kSigma = words(bytesOf('expand 32-byte k'));

class Reader {
  constructor(bytes) { this.bytes = bytes; this.at = 0; }
  take(length) {
    expect(length <= this.bytes.length - this.at, `cut at byte ${this.at}`);
    this.at += length;
    return this.bytes.subarray(this.at - length, this.at);
  }
  number() {
    for (let value = 0, factor = 1; ; factor *= 128) {
      const byte = this.take(1)[0];
      value += (byte & 0x7f) * factor;
      if (byte < 0x80) return value;
    }
  }
  finish(what) { expect(this.at === this.bytes.length, `something left over in ${what}`); }
}

function varint(value) {
  const out = [];
  for (; value >= 0x80; value = Math.floor(value / 128)) out.push((value % 128) | 0x80);
  return Uint8Array.from([...out, value]);
}

function readFrame(file) {
  expect(same(file.subarray(0, 8), Buffer.from('89534c570d0a1a0a', 'hex')), 'not a bundle');
  expect(same(hash(file.subarray(0, -32)), file.subarray(-32)), 'the hash is not true');
  const reader = new Reader(file.subarray(0, -32));
  reader.take(8);
  const numbers = [reader.number(), reader.number(), reader.number(), reader.number()];
  expect(reader.number() === file.length, 'the length is not true');
  const headerLength = reader.number();
  const rows = Array.from({ length: reader.number() }, () =>
    ({ type: reader.number(), codec: reader.number(), stored: reader.number(), raw: reader.number(), check: reader.take(8) }));
  const header = reader.take(headerLength);
  const sections = rows.map((row) => {
    const bytes = reader.take(row.stored);
    expect(same(hash(bytes).subarray(0, 8), row.check), `the check of section ${row.type} is not true`);
    return { ...row, bytes };
  });
  reader.finish('file');
  return { numbers, flags: numbers[3], header, sections };
}

// Four lines of sixteen signs, each 8 bytes of the secret and 2 of a check.
function secretOfSheet(text) {
  const signs = '0123456789ABCDEFGHJKMNPQRSTVWXYZ';
  const lines = text.split('\n').filter((line) => line.trim() && !line.startsWith('#'));
  expect(lines.length === 4, 'a sheet has four lines');
  return join(...lines.map((line, nth) => {
    let bits = 0n;
    for (const sign of line.replaceAll(' ', '')) bits = (bits << 5n) | BigInt(signs.indexOf(sign));
    const bytes = Buffer.from(bits.toString(16).padStart(20, '0'), 'hex');
    expect(same(hash(bytesOf('slipway recovery line '), bytes.subarray(0, 8), [nth]).subarray(0, 2), bytes.subarray(8)), `line ${nth + 1} has a slip`);
    return bytes.subarray(0, 8);
  }));
}

function openBox(box, secret) {
  const open = x25519.getPublicKey(secret), once = box.subarray(0, 32);
  const key = new Uint32Array(8);
  hsalsa(kSigma, words(x25519.getSharedSecret(secret, once)), new Uint32Array(4), key);
  const nonce = blake2b(join(once, open), { dkLen: 24 });
  return xsalsa20poly1305(new Uint8Array(key.buffer), nonce).decrypt(box.subarray(32));
}

function openWrapped(stanza, passphrase) {
  const reader = new Reader(stanza);
  const salt = reader.take(16), m = reader.number(), t = reader.number(), box = reader.take(48);
  reader.finish('passphrase stanza');
  const key = argon2id(bytesOf(passphrase), salt, { t, m, p: 1, dkLen: 32, version: 0x13 });
  return xsalsa20poly1305(key, join(bytesOf('slipway file key'), new Uint8Array(8))).decrypt(box);
}

// libsodium's secretstream, as its documentation describes it.
function openStream(content, key) {
  const header = content.subarray(0, 24);
  const subkey = new Uint32Array(8);
  hchacha(kSigma, words(key), words(header.subarray(0, 16)), subkey);
  const streamKey = new Uint8Array(subkey.buffer);
  const nonce = join([1, 0, 0, 0], header.subarray(16));
  const out = [];
  for (let at = 24; ;) {
    const chunk = content.subarray(at, at + 65536 + 17);
    expect(chunk.length > 17, 'cut');
    at += chunk.length;
    const body = chunk.subarray(1, -16), mac = chunk.subarray(-16);
    const block = chacha20(streamKey, nonce, join([chunk[0]], new Uint8Array(63)), undefined, 1);
    const tag = block[0];
    block[0] = chunk[0];
    const lengths = new DataView(new ArrayBuffer(16));
    lengths.setUint32(8, 64 + body.length, true);
    const polyKey = chacha20(streamKey, nonce, new Uint8Array(64), undefined, 0).subarray(0, 32);
    const padding = new Uint8Array((0x10 - 64 + body.length) & 0xf);
    expect(same(poly1305(join(block, body, padding, new Uint8Array(lengths.buffer)), polyKey), mac), 'a chunk does not hold');
    out.push(chacha20(streamKey, nonce, Uint8Array.from(body), undefined, 2));
    for (let i = 0; i < 8; ++i) nonce[4 + i] ^= mac[i];
    new DataView(nonce.buffer).setUint32(0, new DataView(nonce.buffer).getUint32(0, true) + 1, true);
    if (tag === 3) {
      expect(at === content.length, 'something behind the final chunk');
      return join(...out);
    }
    expect(tag === 0, `a tag of ${tag}`);
  }
}

function unseal(file, given) {
  const frame = readFrame(file);
  expect(frame.flags === 1 && frame.sections.length === 1 && frame.sections[0].type === 7, 'not sealed');
  const reader = new Reader(frame.header);
  const stanzas = Array.from({ length: reader.number() }, () => {
    const type = reader.number();
    return { type, bytes: reader.take(reader.number()) };
  });
  const said = frame.header.subarray(0, reader.at), mac = reader.take(32);
  reader.finish('header');
  let fileKey;
  for (const { type, bytes } of stanzas) {
    if (type === 1 && given.secret) try { fileKey = openBox(bytes, given.secret); } catch { /* somebody else's */ }
    if (type === 2 && given.passphrase) fileKey = openWrapped(bytes, given.passphrase);
  }
  expect(fileKey, 'no stanza opens');
  const macKey = keyed(fileKey, bytesOf('slipway seal header'));
  expect(same(keyed(macKey, ...frame.numbers.map(varint), said), mac), 'the header does not hold');
  return { inside: openStream(frame.sections[0].bytes, keyed(fileKey, bytesOf('slipway seal content'))), stanzas: stanzas.map((one) => one.type) };
}

function compareDigits(key) {
  const view = new DataView(Uint8Array.from(hash(bytesOf('slipway compare '), key)).buffer);
  return [0, 4, 8, 12].map((at) => String(view.getUint32(at) % 100000).padStart(5, '0')).join(' ');
}

function readSignature(bundle) {
  const frame = readFrame(bundle);
  const section = frame.sections.find((one) => one.type === 6);
  if (!section) return null;
  expect(frame.flags === 2, 'signed, and the flags do not say so');
  const reader = new Reader(section.bytes);
  const how = reader.number();
  const to = Array.from({ length: reader.number() }, () => reader.take(32));
  const envelope = section.bytes.subarray(0, reader.at);
  const signer = reader.take(32), signature = reader.take(64);
  reader.finish('signature');
  const others = frame.sections.filter((one) => [1, 3, 5].includes(one.type)).map((one) => join(varint(one.type), hash(one.bytes)));
  const packed = frame.sections.some((one) => one.codec !== 0);
  if (!packed) expect(ed25519.verify(signature, hash(bytesOf('slipway signature 0'), envelope, ...others), signer), 'the signature does not hold');
  return { how, to: to.map(compareDigits), signer: compareDigits(signer), proven: !packed };
}

const [path, ...options] = process.argv.slice(2);
const option = (name) => (options.includes(name) ? options[options.indexOf(name) + 1] : undefined);
try {
  const file = Uint8Array.from(readFileSync(path));
  if (options.includes('--open')) {
    console.log(JSON.stringify({ signature: readSignature(file) }));
  } else {
    const sheet = option('--sheet');
    const secret = sheet && secretOfSheet(readFileSync(sheet, 'utf8'));
    const { inside, stanzas } = unseal(file, { secret, passphrase: option('--passphrase') });
    writeFileSync(option('--out'), inside);
    console.log(JSON.stringify({ stanzas, bytes: inside.length, key: secret ? compareDigits(x25519.getPublicKey(secret)) : null, signature: readSignature(inside) }));
  }
} catch (why) {
  console.error(`refused: ${why.message}`);
  process.exitCode = 3;
}
