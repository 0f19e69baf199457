// @ts-check
// Links of the radio overlay: which one is pointed at, and what it is made of.
import * as Model from './model.js';
import { distance, nearest } from './shapes.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Point} Point */
/** @typedef {{a: string, b: string, from: Point, to: Point, text: string}} Link */

const reach = 6; // pixels that the pointer may miss a link

export class Links {
  /** @type {Link[]} */
  list = [];
  /** @type {Link | null} pointed at, or in focus in the list */
  shown = null;
  asked = ''; // the link that the panel explains
  /** @type {AbortController | null} */
  asking = null;

  /** @param {Board} board @param {import('./overlay.js').Overlay} overlay */
  constructor(board, overlay) {
    this.board = board;
    this.overlay = overlay;
    document.getElementById('stage')?.addEventListener('pointermove', (event) => this.point(event));
    const list = document.getElementById('overlay-list');
    for (const name of ['focusin', 'mouseover']) list?.addEventListener(name, (event) => this.light(this.of(event.target)));
    for (const name of ['focusout', 'mouseleave']) list?.addEventListener(name, () => this.light(null));
    list?.addEventListener('click', (event) => {
      const link = this.of(event.target);
      if (link) board.selection.set([link.a, link.b]);
    });
    document.getElementById('overlay-why')?.addEventListener('change', (event) => {
      const { target } = event;
      const [a] = this.ends();
      if (target instanceof HTMLSelectElement && target.id === 'why-b' && a) board.selection.set(target.value ? [a, target.value] : [a]);
    });
  }

  /** The link that a line of the list is about. @param {EventTarget | null} target @returns {Link | null} */
  of(target) {
    const button = target instanceof Element ? target.closest('[data-link-a]') : null;
    return button instanceof HTMLElement ? this.list.find((one) => one.a === button.dataset.linkA && one.b === button.dataset.linkB) ?? null : null;
  }

  /** Takes in the links that are drawn. */
  read() {
    this.list = [...document.querySelectorAll('#lower .o-link')].map((line) => {
      /** @param {string} name */
      const number = (name) => Number(line.getAttribute(name));
      const { a = '', b = '', text = '' } = /** @type {SVGElement} */ (line).dataset;
      return { a, b, text, from: /** @type {Point} */ ([number('x1'), number('y1')]), to: /** @type {Point} */ ([number('x2'), number('y2')]) };
    });
    this.light(null);
  }

  /** @param {PointerEvent} event */
  point(event) {
    if (this.list.length === 0 || event.buttons !== 0) return;
    const box = /** @type {HTMLElement} */ (event.currentTarget).getBoundingClientRect();
    const at = this.board.view.toPlan([event.clientX - box.left, event.clientY - box.top]);
    const far = reach / this.board.view.scale;
    const close = this.list.filter((one) => distance(nearest(one.from, one.to, at), at) <= far);
    this.light(close[0] ?? null);
  }

  /** Writes beside a link what it has. @param {Link | null} link */
  light(link) {
    if (link === this.shown) return;
    this.shown = link;
    this.board.preview.set('overlay', link ? [
      { kind: 'line', points: [link.from, link.to], name: 'link' },
      { kind: 'text', at: [(link.from[0] + link.to[0]) / 2, (link.from[1] + link.to[1]) / 2], text: link.text },
    ] : []);
  }

  /** The devices that are selected: one or two of them are the ends of a link. @returns {string[]} */
  ends() {
    const keys = [...this.board.selection.keys].filter((key) => key.startsWith('device/'));
    return this.overlay.show === 'margin' && keys.length <= 2 ? keys : [];
  }

  /** Explains what is selected. */
  selected() {
    const [a, b] = this.ends();
    const query = a ? new URLSearchParams(b ? { a, b } : { a }).toString() : '';
    if (query !== this.asked) void this.explain(query);
  }

  /** The plan has changed. */
  refresh() {
    if (this.asked !== '') requestAnimationFrame(() => void this.explain(this.asked));
  }

  /** @param {string} query */
  async explain(query) {
    this.asked = query;
    this.asking?.abort();
    const panel = document.getElementById('overlay-why');
    if (!panel) return;
    if (query === '') {
      panel.replaceChildren();
      return this.draw(panel);
    }
    this.asking = new AbortController();
    try {
      const answer = await fetch(`${this.overlay.tools.dataset.why}?${query}`, { signal: this.asking.signal });
      const text = await answer.text();
      if (this.asked !== query) return;
      const focus = panel.contains(document.activeElement) ? document.activeElement?.id : '';
      if (answer.ok) panel.innerHTML = text;
      else panel.textContent = text;
      if (focus) document.getElementById(focus)?.focus({ preventScroll: true });
      this.draw(panel);
      const title = document.getElementById('why-title')?.textContent;
      if (title) this.board.say(title.trim().replace(/\s+/g, ' '));
    } catch (error) {
      if (!(error instanceof DOMException && error.name === 'AbortError')) panel.textContent = 'The link could not be explained: select it again.';
    }
  }

  /** Marks the link and what it goes through. @param {HTMLElement} panel */
  draw(panel) {
    const ends = panel.querySelector('[data-a]');
    const { a = '', b = '' } = ends instanceof HTMLElement ? ends.dataset : {};
    const [from, to] = [Model.place(this.board.model, a), Model.place(this.board.model, b)];
    /** @type {import('./preview.js').Shape[]} */
    const shapes = from && to ? [{ kind: 'line', points: [from, to], name: 'link' }] : [];
    for (const one of panel.querySelectorAll('[data-wall]')) {
      const { wall: key = '', look = '' } = /** @type {HTMLElement} */ (one).dataset;
      const wall = Model.wall(this.board.model, key);
      const [x, y] = look.split(' ').map(Number);
      if (wall) shapes.push({ kind: 'line', points: [wall.a, wall.b], name: 'crossed' });
      shapes.push({ kind: 'mark', at: [x, y], name: 'snap', text: one.closest('tr')?.querySelector('td')?.textContent ?? '' });
    }
    this.board.preview.set('overlay-why', shapes);
  }
}
