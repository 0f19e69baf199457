// @ts-check
// The daylight factor at a point: under the pointer, or under a cursor that the
// arrow keys move.
import { plus } from './shapes.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Point} PlanPoint */

/** @type {Record<string, PlanPoint>} */
const arrows = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
const step = 0.5; // meters that an arrow moves the cursor; with Shift a tenth of it

export class Point {
  /** @type {PlanPoint | null} what is asked about */
  at = null;
  keyed = false; // the cursor is the keyboard's
  busy = false;
  again = false; // it has moved on while an answer was awaited

  /** @param {Board} board @param {import('./overlay.js').Overlay} overlay */
  constructor(board, overlay) {
    this.board = board;
    this.overlay = overlay;
    const stage = document.getElementById('stage');
    for (const name of ['pointermove', 'pointerdown']) stage?.addEventListener(name, (event) => this.pointed(/** @type {PointerEvent} */ (event)));
    stage?.addEventListener('pointerleave', (event) => { if (!this.keyed && event.pointerType !== 'touch') this.away(); });
    stage?.addEventListener('keydown', (event) => {
      if (event.target !== stage || !this.key(event)) return;
      event.preventDefault();
      event.stopImmediatePropagation(); // the plan's own keys stand behind
    });
  }

  get on() {
    return this.overlay.show === 'daylight' && this.overlay.view === 'factor';
  }

  /** @param {PointerEvent} event */
  pointed(event) {
    const tap = event.type === 'pointerdown' && event.pointerType === 'touch' && event.isPrimary;
    if (!this.on || (!tap && (event.buttons !== 0 || event.type === 'pointerdown'))) return;
    const box = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
    this.keyed = false;
    this.ask(this.board.view.toPlan([event.clientX - box.left, event.clientY - box.top]));
  }

  /** @param {KeyboardEvent} event @returns {boolean} whether the key meant something */
  key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return false;
    const letter = event.key.toLowerCase();
    if (letter === 'y') {
      this.overlay.toggle('daylight');
      return true;
    }
    if (!this.on) return false;
    if (letter === 'q') {
      this.keyed = true;
      this.ask(this.at ?? this.board.view.center);
      return true;
    }
    if (!this.keyed || !this.at) return false;
    if (event.key === 'Escape') {
      this.away();
      return true;
    }
    const by = arrows[event.key];
    if (!by) return false;
    const far = event.shiftKey ? step / 10 : step;
    this.ask(plus(this.at, [by[0] * far, by[1] * far]));
    return true;
  }

  /** @param {PlanPoint} at */
  ask(at) {
    this.at = at;
    this.again = this.busy;
    if (!this.busy) void this.load();
  }

  /** The plan has changed. */
  refresh() {
    if (this.at && this.on) this.ask(this.at);
  }

  away() {
    if (!this.at) return;
    this.at = null;
    this.keyed = false;
    document.getElementById('overlay-point')?.replaceChildren();
    this.board.preview.set('overlay-point', []);
  }

  /** One request at a time; the newest point is asked next. */
  async load() {
    const { at } = this;
    if (!at) return;
    this.busy = true;
    const query = new URLSearchParams({ at: at.join(','), have: document.getElementById('version')?.dataset.have ?? '' });
    if (this.overlay.scope === 'room') query.set('room', this.overlay.roomShown());
    try {
      const answer = await fetch(`${document.getElementById('overlay-day')?.dataset.light}?${query}`);
      const text = await answer.text();
      if (this.at && this.on) this.take(answer.ok ? text : '', text);
    } catch {
      if (this.at) this.take('', 'The point could not be asked about: move on to ask again.');
    }
    this.busy = false;
    if (this.again) {
      this.again = false;
      void this.load();
    }
  }

  /** @param {string} markup @param {string} otherwise */
  take(markup, otherwise) {
    const panel = document.getElementById('overlay-point');
    if (!panel || !this.at) return;
    if (markup) panel.innerHTML = markup;
    else panel.textContent = otherwise;
    const told = panel.querySelector('[data-at]');
    const { at = '', text = '', said = '' } = told instanceof HTMLElement ? told.dataset : {};
    const [x, y] = at.split(' ').map(Number);
    const shown = markup && text;
    this.board.preview.set('overlay-point', shown || this.keyed ? [{ kind: 'mark', at: shown ? [x, y] : this.at, name: 'point', text }] : []);
    if (this.keyed) this.board.say(said || panel.textContent?.trim().replace(/\s+/g, ' ') || '');
  }
}
