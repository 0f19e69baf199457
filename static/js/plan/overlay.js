// @ts-check
// What physics says of the storey, shown beneath the devices: margins of radio
// links, what presence sensors see. The server draws it; an answer to an edit
// brings what is new of it.
import * as Hit from './hit.js';
import { Links } from './overlaylinks.js';
import { make } from './preview.js';
import { show } from './news.js';
import { words } from './board.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./news.js').Changes} Changes */
/** @typedef {{of: string, from: string, now: string, sections: Record<string, Changes>}} OverlayNews */

const hatches = ['bad', 'fair', 'one', 'good', 'leak'];
/** Which layer of the drawing each of ours lies before. */
const layers = { 'overlay-cells': 'seats', 'overlay-lines': 'devices' };

export class Overlay {
  show = ''; // "margin", "sight", "" for none
  scope = 'room'; // or "storey"
  motion = 'walk'; // or "small"
  room = ''; // the one selected last
  /** what the page holds: the choice, and the server's state that it was made for */
  held = { of: '', state: '' };
  /** @type {AbortController | null} */
  asked = null;
  scale = 0; // pixels a meter that the hatches fit

  /** @param {Board} board */
  constructor(board) {
    this.board = board;
    this.links = new Links(board, this);
    document.addEventListener('click', (event) => this.click(event));
    document.addEventListener('htmx:before:request', (event) => {
      const { request } = /** @type {CustomEvent} */ (event).detail.ctx;
      if (this.held.of !== '') request.headers['X-Overlay'] = `${this.held.state} ${this.held.of}`;
    });
  }

  get tools() {
    return /** @type {HTMLElement} */ (document.getElementById('overlay-tools'));
  }

  /** @param {Event} event */
  click(event) {
    const button = /** @type {Element} */ (event.target).closest('#overlay-tools button');
    if (!(button instanceof HTMLElement)) return;
    const { show: what, scope, motion } = button.dataset;
    if (what !== undefined) this.show = what;
    if (scope) this.scope = scope;
    if (motion) this.motion = motion;
    this.choose();
  }

  /** A key of the plan: the same again shows the plan only. @param {string} what */
  toggle(what) {
    this.show = this.show === what ? '' : what;
    this.choose();
  }

  choose() {
    /** @param {string} name @param {string} value */
    const press = (name, value) => {
      for (const button of this.tools.querySelectorAll(`[data-${name}]`)) button.setAttribute('aria-pressed', String(button.getAttribute(`data-${name}`) === value));
    };
    press('show', this.show);
    press('scope', this.scope);
    press('motion', this.motion);
    hide('overlay-scope', this.show === '');
    hide('overlay-motion', this.show !== 'sight');
    hide('overlay-panel', this.show === '');
    hide('overlay-legend', this.show === '');
    this.links.selected();
    if (this.show === '') this.clear();
    else void this.load();
    this.board.say(this.said());
  }

  said() {
    if (this.show === '') return 'The plan only';
    const of = this.scope === 'storey' ? 'the whole storey' : this.board.model.rooms.find((one) => one.id === this.roomShown())?.name ?? 'no room: select one';
    return `${this.show === 'margin' ? 'Radio margin' : this.motion === 'small' ? 'Small motion that sensors see' : 'What sensors see of people who walk'}, ${of}`;
  }

  /** The selection has changed. */
  selected() {
    const [key] = this.board.selection.keys;
    const [kind, id] = (key ?? '').split('/');
    if (['room', 'device', 'fixture', 'seat'].includes(kind) && id) this.room = id;
    if (this.show === '') return;
    if (this.of() !== this.held.of) void this.load();
    this.links.selected();
  }

  /** The selected room, else the one in the middle of the view. */
  roomShown() {
    if (!this.board.model.rooms.some((one) => one.id === this.room)) this.room = Hit.roomAt(this.board.model, this.board.view.center)?.id ?? '';
    return this.room;
  }

  /** What is to be shown, as the server reads it; "" for nothing. */
  of() {
    if (this.show === '') return '';
    const query = new URLSearchParams({ show: this.show });
    if (this.show === 'sight') query.set('motion', this.motion);
    if (this.scope === 'room') {
      const room = this.roomShown();
      if (room === '') return '';
      query.set('room', room);
    }
    return query.toString();
  }

  /** Fetches all of it. */
  async load() {
    const of = this.of();
    this.asked?.abort();
    words('overlay-said', of === '' ? 'Select a room, or something in it.' : '');
    if (of === '') return this.clear();
    this.asked = new AbortController();
    try {
      const answer = await fetch(`${this.tools.dataset.from}?${of}`, { signal: this.asked.signal });
      if (!answer.ok) throw new Error(await answer.text());
      this.take(await answer.json());
    } catch (error) {
      if (error instanceof DOMException && error.name === 'AbortError') return;
      this.clear();
      words('overlay-said', 'It could not be fetched: choose it again.');
    }
  }

  /** An answer has brought what is new of the plan. @param {import('./news.js').News} news */
  heard(news) {
    this.place();
    if (this.held.of === '') return;
    const { overlay } = news;
    if (overlay && overlay.of === this.held.of && (overlay.from === '' || overlay.from === this.held.state)) this.take(overlay);
    else if (this.held.state !== news.now) void this.load();
    this.links.refresh();
  }

  /** @param {OverlayNews} news */
  take(news) {
    if (news.of !== this.of()) return;
    this.ready();
    for (const [name, changes] of Object.entries(news.sections)) show(name, changes);
    this.hold(news.of, news.now);
    this.links.read();
  }

  clear() {
    this.asked?.abort();
    this.hold('', '');
    for (const name of Object.keys(layers)) document.querySelector(`#lower [data-layer="${name}"]`)?.replaceChildren();
    for (const id of ['overlay-list', 'overlay-legend']) document.getElementById(id)?.replaceChildren();
    this.links.read();
  }

  /** @param {string} of @param {string} state */
  hold(of, state) {
    this.held = { of, state };
    document.getElementById('overlay-panel')?.setAttribute('data-of', of);
  }

  /** Makes room in the drawing. */
  ready() {
    const drawing = document.querySelector('#lower > svg');
    if (!drawing || drawing.querySelector('[data-layer="overlay-cells"]')) return;
    const defs = make('defs', {});
    defs.append(...hatches.map((name) => make('pattern', { id: `hatch-${name}-plan`, href: `#hatch-${name}` })));
    drawing.prepend(defs);
    for (const [name, above] of Object.entries(layers)) drawing.querySelector(`[data-layer="${above}"]`)?.before(make('g', { 'data-layer': name }));
    this.place();
    this.scale = 0;
    this.fit();
  }

  /** Puts what is drawn in meters, y up, where the drawing has it. */
  place() {
    const drawing = document.querySelector('#lower > svg');
    if (!(drawing instanceof SVGElement)) return;
    const { originX, originY, perMeter } = drawing.dataset;
    const scale = Number(perMeter);
    for (const name of Object.keys(layers)) drawing.querySelector(`[data-layer="${name}"]`)?.setAttribute('transform', `matrix(${scale} 0 0 ${-scale} ${-Number(originX) * scale} ${Number(originY) * scale})`);
  }

  /** Hatches keep their size on the screen; they are fitted once the view is still. */
  fit() {
    const { scale } = this.board.view;
    if (Math.abs(scale / this.scale - 1) < 0.02) return;
    const patterns = hatches.map((name) => document.getElementById(`hatch-${name}-plan`));
    if (!patterns[0]) return;
    this.scale = scale;
    for (const pattern of patterns) pattern?.setAttribute('patternTransform', `scale(${1 / scale} ${-1 / scale})`);
  }
}

/** @param {string} id @param {boolean} hidden */
function hide(id, hidden) {
  const element = document.getElementById(id);
  if (element) element.hidden = hidden;
}
