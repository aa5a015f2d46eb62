// The mirror: the semantic tree of the last frame as real elements over the picture.
//
// Elements are known by node id and stay the same as long as the node does, so that focus,
// a phone's keyboard and a screen reader's place survive each frame. What a person does to
// them is told by tell({kind, ...}), which answers the number under which it was told; a
// tree that was made before that number does not yet know of it.

const arrowKeys = ['ArrowLeft', 'ArrowRight', 'ArrowUp', 'ArrowDown', 'Home', 'End'];
const stepKeys = { ArrowUp: ['step_up', 1], ArrowDown: ['step_down', 1], PageUp: ['step_up', 5], PageDown: ['step_down', 5] };
const holders = { radiogroup: 'radio', grid: 'gridcell', tablist: 'tab' };  // one stop of Tab, arrows inside
const saidMost = 4;  // messages that stay in the live region

export class Mirror {
  constructor(root, said, hints, tell) {
    this.root = root;
    this.tell = tell;
    this.hints = hints;
    this.polite = said.children[0];
    this.urgent = said.children[1];
    this.known = new Map();    // node id -> {element, node, parts}
    this.areas = new Map();    // area id -> {element, content, sent}
    this.heard = 0;            // serial of the last announcement
    this.focusTold = 0;        // number under which the focus was told
    this.byKey = false;
    this.listen();
  }

  show(tree, told) {
    this.told = told;
    const active = document.activeElement;
    this.showing = true;
    this.forgetOld(tree);
    tree.areas.forEach((area) => this.showArea(area));
    this.showNodes(tree.nodes);
    tree.areas.forEach((area) => this.moveArea(area, told));
    if (active !== document.activeElement && active.isConnected) active.focus({ preventScroll: true });
    this.showing = false;
    this.followFocus(tree, told);
    this.setStops();
    tree.announcements.forEach((said) => this.say(said));
  }

  // First every element, then its place: making one may take another away.
  showNodes(nodes) {
    const parents = new Set(nodes.map((node) => node.parent));
    this.lasts = new Map();    // container -> the child placed last
    this.placed = new Set();   // areas that stand in their place
    let headings = 0;
    const shapes = nodes.map((node) => {
      if (node.role === 'heading') headings += 1;
      return shapeOf(node, parents.has(node.id), headings);
    });
    const items = nodes.map((node, i) => this.item(node, shapes[i]));
    nodes.forEach((node, i) => {
      this.placeNode(items[i].element, node);
      this.describe(items[i], node, shapes[i]);
    });
  }

  // --- elements ----------------------------------------------------------------------------

  forgetOld(tree) {
    const kept = new Set(tree.nodes.map((node) => node.id));
    for (const [id, item] of this.known) {
      if (kept.has(id)) continue;
      item.element.remove();
      if (item.hint) item.hint.remove();
      this.known.delete(id);
    }
    const areas = new Set(tree.areas.map((area) => area.id));
    for (const [id, area] of this.areas) {
      if (areas.has(id)) continue;
      area.element.remove();
      this.areas.delete(id);
    }
  }

  showArea(area) {
    let known = this.areas.get(area.id);
    if (!known) {
      const element = document.createElement('section');
      const content = document.createElement('div');
      element.className = 'area';
      content.className = 'content';
      element.append(content);
      known = { element, content, sent: 0, area };
      this.areas.set(area.id, known);
      element.addEventListener('scroll', () => this.scrolled(area.id, known), { passive: true });
    }
    set(known.element, 'aria-label', area.name);
    setBox(known.element, area.rect, [0, 0]);
    known.content.style.height = `${area.content_height}px`;
    known.area = area;
  }

  // An element whose shape stays is kept; one that changes into another is made anew.
  item(node, shape) {
    let item = this.known.get(node.id);
    if (item && item.tag !== shape.tag) {
      item.element.remove();
      item = null;
    }
    if (!item) {
      const element = document.createElement(shape.tag);
      element.dataset.id = node.id;
      if (shape.tag === 'button') element.type = 'button';
      if (shape.tag === 'input') dressInput(element, node);
      item = { element, tag: shape.tag };
      this.known.set(node.id, item);
    }
    return item;
  }

  placeNode(element, node) {
    const parent = this.known.get(node.parent);
    const area = this.areas.get(node.area);
    if (area && !this.placed.has(area)) {
      this.placed.add(area);
      this.place(area.element, this.root);
    }
    if (parent) this.place(element, parent.element);
    else this.place(element, area ? area.content : this.root);
    setBox(element, node.rect, parent ? parent.node.rect : [0, 0]);
  }

  // Puts the element where reading order wants it, and moves nothing that stands there already.
  place(element, container) {
    const last = this.lasts.get(container);
    const next = last ? last.nextElementSibling : container.firstElementChild;
    if (element !== next) container.insertBefore(element, next);
    this.lasts.set(container, element);
  }

  describe(item, node, shape) {
    const { element } = item;
    const before = item.node || {};
    item.node = node;
    set(element, 'role', shape.role);
    set(element, 'data-answers', node.answers);
    if (shape.textInside && (before.name !== node.name || !item.textInside)) element.textContent = node.name || '';
    if (!shape.textInside && item.textInside) element.textContent = '';  // its parts come now
    item.textInside = shape.textInside;
    element.classList.toggle('leaf', Boolean(shape.textInside));
    set(element, 'aria-label', shape.label && node.name);
    set(element, 'aria-disabled', node.disabled && 'true');
    set(element, 'aria-checked', shape.checks && String(Boolean(node.checked)));
    const chosenCell = node.role === 'gridcell' && node.checked && 'true';
    set(element, 'aria-selected', node.role === 'tab' ? String(Boolean(node.current)) : chosenCell);
    set(element, 'aria-current', node.role !== 'tab' && node.current && 'true');
    set(element, 'aria-pressed', node.pressed && 'true');
    set(element, 'aria-invalid', node.invalid && 'true');
    set(element, 'aria-live', (node.role === 'status' || node.role === 'alert') && 'off');  // announcements speak
    const counted = node.set_size && ['listitem', 'radio', 'tab'].includes(node.role);
    set(element, 'aria-posinset', counted && node.position);
    set(element, 'aria-setsize', counted && node.set_size);
    if (node.role === 'gridcell') element.tabIndex = -1;
    this.describeHint(item, node);
    if (shape.tag === 'input') this.describeInput(item, node, before);
  }

  describeHint(item, node) {
    if (node.hint && !item.hint) {
      item.hint = document.createElement('span');
      item.hint.id = `hint-${node.id}`;
      this.hints.append(item.hint);
    }
    if (!node.hint && item.hint) {
      item.hint.remove();
      item.hint = null;
    }
    if (item.hint && item.hint.textContent !== node.hint) item.hint.textContent = node.hint;
    set(item.element, 'aria-describedby', item.hint && item.hint.id);
  }

  // While a field has the caret its text belongs to the hand: only a value that changed by
  // something else, and later than the last stroke, is put into it.
  describeInput(item, node, before) {
    const { element } = item;
    const value = node.value || '';
    if (node.role === 'spinbutton') {
      set(element, 'aria-valuenow', node.now);
      set(element, 'aria-valuemin', node.low);
      set(element, 'aria-valuemax', node.high);
    }
    const busy = document.activeElement === element;
    const news = value !== (before.value || '') && this.told >= (item.typed || 0);
    if ((!busy || news) && element.value !== value) element.value = value;
  }

  // --- scrolling -----------------------------------------------------------------------------

  scrolled(id, known) {
    const y = known.element.scrollTop;
    if (Math.abs(y - known.sent) < 0.5) return;
    known.sent = y;
    known.told = this.tell({ kind: 'scroll', id, y });
  }

  moveArea(area, told) {
    const known = this.areas.get(area.id);
    const inside = known.element.querySelector('[tabindex="0"], button:not([tabindex="-1"]), input');
    const scrolls = area.content_height > area.rect[3] + 0.5;
    set(known.element, 'tabindex', scrolls && !inside && '0');  // else the keyboard could not scroll it
    if (told < (known.told || 0) || Math.abs(area.scroll_y - known.sent) < 0.5) return;
    known.sent = area.scroll_y;
    known.element.scrollTop = area.scroll_y;
  }

  // --- focus ---------------------------------------------------------------------------------

  followFocus(tree, told) {
    const wanted = tree.focus || '';
    if (told < this.focusTold || wanted === this.focused) return;
    this.focused = wanted;
    const item = this.known.get(wanted);
    if (item && document.activeElement !== item.element) item.element.focus({ preventScroll: true });
  }

  focusMoved(id) {
    if (this.showing || id === this.focused) return;
    this.focused = id;
    this.focusTold = this.tell({ kind: 'focus', id, byKey: this.byKey });
  }

  setStops() {
    for (const { element, node } of this.known.values()) {
      if (node.role in holders) setStop(element, holders[node.role]);
    }
  }

  // --- what a person does ----------------------------------------------------------------------

  nodeOf(target) {
    const element = target instanceof Element ? target.closest('[data-id]') : null;
    const item = element && this.known.get(element.dataset.id);
    return item ? item.node : null;
  }

  act(id, kind, more) {
    return this.tell({ kind: 'act', action: { id, kind, ...more } });
  }

  listen() {
    const { root } = this;
    root.addEventListener('click', (event) => {
      const node = this.nodeOf(event.target);
      if (!node || node.answers !== 'press' || node.disabled) return;
      this.act(node.id, 'press', { byPointer: event.detail > 0 });
    });
    root.addEventListener('input', (event) => {
      const node = this.nodeOf(event.target);
      if (!node) return;
      this.known.get(node.id).typed = this.act(node.id, 'set_value', { value: event.target.value });
    });
    root.addEventListener('focusin', (event) => {
      const node = this.nodeOf(event.target);
      this.focusMoved(node ? node.id : '');
      if (!node || event.target.tagName !== 'INPUT') return;
      event.target.dataset.before = event.target.value;
      if (node.role === 'spinbutton') event.target.select();  // the first digit replaces
    });
    root.addEventListener('focusout', (event) => {
      const node = this.nodeOf(event.target);
      if (node && event.target.tagName === 'INPUT') event.target.value = node.value || '';
      if (document.hasFocus() && !event.relatedTarget && document.activeElement === document.body) this.focusMoved('');
    });
    document.addEventListener('keydown', (event) => this.keyDown(event), true);
    this.listenToPointer();
  }

  keyDown(event) {
    this.byKey = true;
    if (event.isComposing) return;
    const node = this.nodeOf(event.target);
    const inField = event.target.tagName === 'INPUT';
    // A key that is held presses once: what stands there next is not what it was held for.
    const presses = event.key === 'Enter' || event.key === ' ' || ((event.ctrlKey || event.metaKey) && event.key.toLowerCase() === 'z');
    if (event.repeat && presses && !inField) {
      event.preventDefault();
      return;
    }
    const used = this.commandKey(event, node, inField) || (node && this.nodeKey(event, node, inField));
    if (used) event.preventDefault();
  }

  commandKey(event, node, inField) {
    const control = event.ctrlKey || event.metaKey;
    if (control && event.key === 'Enter') {
      this.tell({ kind: 'key', name: 'Enter', control: true });
      return true;
    }
    if (control && !event.shiftKey && event.key.toLowerCase() === 'z' && !inField) {
      this.tell({ kind: 'undo' });
      return true;
    }
    if (event.key !== 'Escape') return false;
    const { before } = event.target.dataset;
    if (inField && event.target.value !== before) {  // back to what it was
      event.target.value = before;
      this.known.get(node.id).typed = this.act(node.id, 'set_value', { value: before });
    } else {
      this.tell({ kind: 'key', name: 'Escape', control: false });
    }
    return true;
  }

  nodeKey(event, node, inField) {
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    if (node.role === 'spinbutton' && event.key in stepKeys) {
      const [kind, times] = stepKeys[event.key];
      for (let i = 0; i < times; i += 1) this.act(node.id, kind);
      return true;
    }
    if (inField || !Object.values(holders).includes(node.role)) return false;
    const isDigit = node.role === 'radio' && /^[0-9]$/.test(event.key);
    if (arrowKeys.includes(event.key) || isDigit) {
      this.tell({ kind: 'key', name: event.key, control: false });
      return true;
    }
    if (node.role === 'gridcell' && (event.key === 'Enter' || event.key === ' ')) {
      event.target.click();
      return true;
    }
    return false;
  }

  // Only for the look of a key that is held down; the click is what presses.
  listenToPointer() {
    let pointer = null;
    const send = (move, event) => this.tell({ kind: 'pointer', move, x: event.clientX, y: event.clientY });
    this.root.addEventListener('pointerdown', (event) => {
      this.byKey = false;
      const node = this.nodeOf(event.target);
      if (!node || node.answers !== 'press' || node.disabled || !event.isPrimary || event.button !== 0) return;
      pointer = event.pointerId;
      send('down', event);
    });
    const isOurs = (event) => event.pointerId === pointer;
    addEventListener('pointermove', (event) => isOurs(event) && send('moved', event), { passive: true });
    const lift = (move) => (event) => {
      if (!isOurs(event)) return;
      pointer = null;
      send(move, event);
    };
    addEventListener('pointerup', lift('up'));
    addEventListener('pointercancel', lift('cancelled'));
  }

  // --- what is spoken ---------------------------------------------------------------------------

  say({ serial, urgent, text }) {
    if (serial <= this.heard) return;
    this.heard = serial;
    const region = urgent ? this.urgent : this.polite;
    const line = document.createElement('p');
    line.textContent = text;
    region.append(line);
    while (region.childElementCount > saidMost) region.firstElementChild.remove();
  }
}

// --- what a node looks like as an element ----------------------------------------------------------

function shapeOf(node, hasChildren, headings) {
  const { role } = node;
  switch (role) {
    case 'button': return { tag: 'button', textInside: true };
    case 'link': return { tag: 'button', role, textInside: true };
    case 'radio':
    case 'checkbox': return { tag: 'button', role, textInside: true, checks: true };
    case 'tab': return { tag: 'button', role, textInside: true };
    case 'textbox': return { tag: 'input', label: true };
    case 'spinbutton': return { tag: 'input', role, label: true };
    case 'heading': return { tag: headings === 1 ? 'h1' : 'h2', textInside: true };
    case 'text': return { tag: 'p', textInside: true };
    case 'region': return { tag: 'section', label: true };
    case 'listitem':
    case 'gridcell':
    case 'rowheader':
    case 'columnheader':
    case 'status':
    case 'alert': return { tag: 'div', role, textInside: !hasChildren, label: hasChildren };
    case 'group':
    case 'figure': return { tag: 'div', role, textInside: !hasChildren, label: true };
    default: return { tag: 'div', role, label: true };
  }
}

function dressInput(input, node) {
  input.type = 'text';
  input.inputMode = node.input || 'text';
  input.autocomplete = 'off';
  input.spellcheck = false;
  input.enterKeyHint = 'done';
}

// One of the inner stops answers to Tab: the one with the focus, else the chosen, next or
// shown one, else the first.
function setStop(holder, role) {
  const inner = [...holder.querySelectorAll(`[role="${role}"]`)];
  const entry = inner.find((element) => element === document.activeElement) ||
    inner.find((element) => element.matches('[aria-checked="true"], [aria-selected="true"], [aria-current="true"]')) || inner[0];
  for (const element of inner) element.tabIndex = element === entry ? 0 : -1;
}

function set(element, name, value) {
  if (value === undefined || value === null || value === false || value === '') element.removeAttribute(name);
  else if (element.getAttribute(name) !== String(value)) element.setAttribute(name, value);
}

function setBox(element, [x, y, width, height], [left, top]) {
  const { style } = element;
  const box = [`${x - left}px`, `${y - top}px`, `${width}px`, `${height}px`];
  ['left', 'top', 'width', 'height'].forEach((side, i) => {
    if (style[side] !== box[i]) style[side] = box[i];
  });
}
