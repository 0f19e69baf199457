// @ts-check
// What physics says of the storey, shown beneath the devices: margins of radio
// links, what presence sensors see, daylight. The server draws it; an answer to an
// edit brings what is new of it.
import * as Hit from './hit.js';
import * as Address from './overlayaddress.js';
import { Links } from './overlaylinks.js';
import { Point } from './overlaypoint.js';
import { make } from './preview.js';
import { show } from './news.js';
import { words } from './board.js';
import { send } from './send.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./news.js').Changes} Changes */
/** @typedef {{of: string, from: string, now: string, sections: Record<string, Changes>}} OverlayNews */

/** What of daylight is shown, in words. @type {Record<string, string>} */
const views = { zones: 'Daylight zones', factor: 'Daylight factor', sensors: 'Daylight sensors' };
/** Which layer of the drawing each of ours lies before. */
const layers = { 'overlay-cells': 'seats', 'overlay-lines': 'devices' };

export class Overlay {
  show = ''; // "margin", "sight", "daylight", "" for none
  scope = 'room'; // or "storey"
  motion = 'walk'; // or "small"
  view = 'zones'; // of daylight, or "factor", "sensors"
  code = ''; // by whose rules daylight zones are drawn, where that can be chosen
  room = ''; // the one selected last
  /** what the page holds: the choice, and the server's state that it was made for */
  held = { of: '', state: '' };
  /** @type {AbortController | null} */
  asked = null;
  scale = 0; // pixels a meter that the hatches fit

  /** @param {Board} board @param {() => void} moved the view has changed */
  constructor(board, moved) {
    this.board = board;
    this.moved = moved;
    this.links = new Links(board, this);
    this.point = new Point(board, this);
    document.addEventListener('click', (event) => this.click(event));
    document.addEventListener('change', (event) => {
      if (!(event.target instanceof HTMLSelectElement) || event.target.id !== 'zone-code') return;
      this.code = event.target.value;
      this.choose();
    });
    document.addEventListener('htmx:before:request', (event) => {
      const { request } = /** @type {CustomEvent} */ (event).detail.ctx;
      if (this.held.of !== '') request.headers['X-Overlay'] = `${this.held.state} ${this.held.of}`;
    });
    Address.restore(this);
  }

  get tools() {
    return /** @type {HTMLElement} */ (document.getElementById('overlay-tools'));
  }

  /** @param {Event} event */
  click(event) {
    const button = /** @type {Element} */ (event.target).closest('#overlay-tools button, #overlay-list button[data-zone]');
    if (!(button instanceof HTMLElement)) return;
    const { show: what, scope, motion, view, zone, room, load } = button.dataset;
    if (zone) return send({ do: 'load zone', room, load, kind: zone });
    if (what !== undefined) this.show = what;
    if (scope) this.scope = scope;
    if (motion) this.motion = motion;
    if (view) this.view = view;
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
    press('view', this.view);
    const codes = /** @type {HTMLSelectElement | null} */ (document.getElementById('zone-code'));
    if (codes && this.code !== '') codes.value = this.code;
    hide('overlay-scope', this.show === '');
    hide('overlay-motion', this.show !== 'sight');
    hide('overlay-day', this.show !== 'daylight');
    hide('overlay-code', this.show !== 'daylight' || this.view !== 'zones');
    hide('overlay-panel', this.show === '');
    hide('overlay-legend', this.show === '');
    this.links.selected();
    this.point.away();
    if (this.show === '') this.clear();
    else void this.load();
    Address.keep(this);
    this.board.say(this.said());
  }

  said() {
    if (this.show === '') return 'The plan only';
    const of = this.scope === 'storey' ? 'the whole storey' : this.board.model.rooms.find((one) => one.id === this.roomShown())?.name ?? 'no room: select one';
    const sight = this.motion === 'small' ? 'Small motion that sensors see' : 'What sensors see of people who walk';
    return `${this.show === 'margin' ? 'Radio margin' : this.show === 'sight' ? sight : views[this.view]}, ${of}`;
  }

  /** The selection has changed. */
  selected() {
    const [key] = this.board.selection.keys;
    const [kind, id] = (key ?? '').split('/');
    if (['room', 'device', 'fixture', 'seat'].includes(kind) && id) this.room = id;
    if (this.show === '') return;
    if (this.of() !== this.held.of) {
      this.point.away();
      void this.load();
      Address.keep(this);
    }
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
    if (this.show === 'daylight') query.set('view', this.view);
    if (this.show === 'daylight' && this.view === 'zones' && this.code !== '') query.set('code', this.code);
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
    words('overlay-said', of === '' ? 'Select a room, or Whole storey.' : '');
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
    this.point.refresh();
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
    defs.append(...[...document.querySelectorAll('.hatches pattern')].map((one) => make('pattern', { id: `${one.id}-plan`, href: `#${one.id}` })));
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
    const patterns = document.querySelectorAll('#lower pattern');
    if (patterns.length === 0) return;
    this.scale = scale;
    for (const pattern of patterns) pattern.setAttribute('patternTransform', `scale(${1 / scale} ${-1 / scale})`);
  }
}

/** @param {string} id @param {boolean} hidden */
function hide(id, hidden) {
  const element = document.getElementById(id);
  if (element) element.hidden = hidden;
}
