// The compiled program, with JavaScript's kinds of values at its door.

export class Program {
  constructor(module) {
    this.module = module;
    this.calls = module;  // exported functions are its members
  }

  act({ id, kind, value, byPointer }) {
    this.withBytes(encode(value || ''), (at, size) =>
      this.calls._slipway_act(...halves(id), kinds.indexOf(kind), at, size, Boolean(byPointer)));
  }

  focus(id, byKey) {
    this.calls._slipway_focus(...halves(id), byKey);
  }

  scroll(id, y) {
    this.calls._slipway_scroll(...halves(id), y);
  }

  key(name, control) {
    const known = keys.indexOf(name);
    if (known >= 0) this.calls._slipway_key(known, control);
  }

  takeIn(name, bytes) {
    const at = this.calls._malloc(Math.max(bytes.length, 1));
    if (at === 0) return this.notRead(name, true);
    this.calls._free(at);
    return this.withBytes(encode(name), (nameAt, nameSize) =>
      this.withBytes(bytes, (bytesAt, size) => this.calls._slipway_take_in(nameAt, nameSize, bytesAt, size)));
  }

  notRead(name, isLarge) {
    this.withBytes(encode(name), (at, size) => this.calls._slipway_not_read(at, size, isLarge));
  }

  open(place, found, fresh) {
    this.withBytes(fresh, (freshAt) => {
      if (!found) this.calls._slipway_open(place, 0, freshAt);
      else this.withBytes(found, (foundAt) => this.calls._slipway_open(place, foundAt, freshAt));
    });
  }

  digests() {
    return this.text(this.calls._slipway_digests());
  }

  findings() {
    return this.text(this.calls._slipway_findings());
  }

  text(at) {
    const end = this.module.HEAPU8.indexOf(0, at);
    return new TextDecoder().decode(this.module.HEAPU8.slice(at, end));
  }

  // The bytes are in the program's memory for as long as `use` runs.
  withBytes(bytes, use) {
    const at = this.calls._malloc(Math.max(bytes.length, 1));
    if (at === 0) throw new RangeError('no memory');  // address 0 is the program's own
    this.module.HEAPU8.set(bytes, at);
    try {
      use(at, bytes.length);
    } finally {
      this.calls._free(at);
    }
  }
}

const kinds = ['press', 'set_value', 'step_up', 'step_down', 'focus'];  // model::ActionKind
const keys = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Home', 'End', 'PageUp', 'PageDown', 'Escape', 'Enter',
  '0', '1', '2', '3', '4', '5', '6', '7', '8', '9'];  // ShellKey of shell.h

const encode = (text) => new TextEncoder().encode(text);

// An id has 64 bits, more than a number holds: its hex digits, in two halves.
function halves(id) {
  return id ? [parseInt(id.slice(0, 8), 16), parseInt(id.slice(8), 16)] : [0, 0];
}
