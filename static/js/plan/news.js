// @ts-check
// What an answer says is new: the drawing's elements, the lists beside it, what
// the script knows, and the versions that edits are based on. The server sends
// only what differs from the state whose name the page gives it.
import { patched } from './model.js';

/** @typedef {import('./model.js').Model} Model */
/** @typedef {{k: string, a?: string, v: any}} Put  a: behind which it goes, '' for first; without it: where it is */
/** @typedef {{put?: Put[], gone?: string[], all?: any}} Changes */
/** @typedef {{from: string, now: string, sections: Record<string, Changes>, overlay?: import('./overlay.js').OverlayNews}} News */

const namespace = 'http://www.w3.org/2000/svg';

const version = () => document.getElementById('version');

/** @param {string | null | undefined} text @returns {Record<string, any>} */
export const parse = (text) => JSON.parse(text || '{}');

/** Calls back with each model that the server's news make of the one before. @param {() => Model} model @param {(model: Model, news: News) => void} renewed */
export function listen(model, renewed) {
  document.addEventListener('htmx:before:request', (event) => {
    const { request } = /** @type {CustomEvent} */ (event).detail.ctx;
    request.headers['X-Have'] = version()?.dataset.have ?? '';
  });
  watch();
  const bench = document.getElementById('bench');
  // An observer is called before the screen is painted and before the request
  // counts as done.
  if (bench) new MutationObserver(read).observe(bench, { childList: true });

  function read() {
    const element = document.getElementById('news');
    const text = element?.textContent?.trim();
    if (!element || !text) return;
    element.textContent = '';
    const news = /** @type {News} */ (parse(text));
    const marks = version();
    if (!marks) return;
    if (news.from !== '' && news.from !== marks.dataset.have) return askForAll();
    for (const [name, changes] of Object.entries(news.sections)) show(name, changes);
    if (news.sections.base) marks.dataset.base = rebased(marks.dataset.base ?? '', news.sections.base);
    marks.dataset.have = news.now;
    renewed(patched(model(), news.sections), news);
  }
}

/** The answer was made for another state than this page shows. */
function askForAll() {
  const marks = version();
  if (marks) marks.dataset.have = '';
  window.htmx.trigger('#version', 'stale');
}

const patience = 250; // ms that the answer to an own edit may come later than word of it

/** Asks for what is new when the project changed and the page does not show it yet. */
function watch() {
  /** @type {Map<string, number>} */
  const heard = new Map();
  let timer = 0;
  document.getElementById('live')?.addEventListener('changed', (event) => {
    const { subjects } = parse(/** @type {CustomEvent} */ (event).detail?.data);
    for (const [name, revision] of Object.entries(subjects ?? {})) heard.set(name, revision);
    clearTimeout(timer);
    timer = window.setTimeout(() => {
      const shown = versions(version()?.dataset.base ?? '');
      if ([...heard].some(([name, revision]) => Number(shown.get(name) ?? -1) < revision || revision === 0)) window.htmx.trigger('#version', 'stale');
      heard.clear();
    }, patience);
  });
}

/** @param {string} base @returns {Map<string, string>} */
function versions(base) {
  return new Map(base.split(',').filter(Boolean).map((pair) => {
    const at = pair.lastIndexOf('=');
    return [pair.slice(0, at), pair.slice(at + 1)];
  }));
}

/** @param {string} base @param {Changes} changes */
function rebased(base, changes) {
  if (changes.all !== undefined) return changes.all;
  const pairs = versions(base);
  for (const key of changes.gone ?? []) pairs.delete(key);
  for (const { k, v } of changes.put ?? []) pairs.set(k, v);
  return [...pairs].map((pair) => pair.join('=')).join(',');
}

/** @param {string} name @param {Changes} changes */
export function show(name, changes) {
  const drawing = document.querySelector('#lower > svg');
  const [kind, place] = name.split(':');
  if (kind === 'html') put(document.getElementById(place), changes, htmlOf);
  if (!drawing) return;
  if (kind === 'svg') put(drawing.querySelector(`[data-layer="${place}"]`), changes, svgOf);
  if (kind === 'frame') frame(drawing, changes.all);
  if (kind === 'underlay') {
    drawing.querySelector('[data-layer="underlay"]')?.remove();
    drawing.prepend(...svgOf(changes.all));
  }
}

/** @param {Element} drawing @param {{origin: [number, number], scale: number, size: [number, number]}} to */
function frame(drawing, to) {
  drawing.setAttribute('viewBox', `0 0 ${to.size[0]} ${to.size[1]}`);
  drawing.setAttribute('data-origin-x', String(to.origin[0]));
  drawing.setAttribute('data-origin-y', String(to.origin[1]));
  drawing.setAttribute('data-per-meter', String(to.scale));
}

/** @param {string} markup @returns {Element[]} */
function svgOf(markup) {
  const holder = document.createElementNS(namespace, 'g');
  holder.innerHTML = markup;
  return [...holder.children];
}

/** @param {string} markup @returns {Element[]} */
function htmlOf(markup) {
  const holder = document.createElement('template');
  holder.innerHTML = markup;
  return [...holder.content.children];
}

/** @param {Element | null} list @param {Changes} changes @param {(markup: string) => Element[]} make */
function put(list, changes, make) {
  if (!list) return;
  if (changes.all !== undefined) {
    list.innerHTML = changes.all;
    return;
  }
  for (const key of changes.gone ?? []) document.getElementById(key)?.remove();
  for (const { k, a, v } of changes.put ?? []) {
    const old = document.getElementById(k);
    const [made] = make(v);
    if (!made) continue;
    if (old instanceof HTMLDetailsElement && old.open) made.setAttribute('open', '');
    if (a === undefined && old) old.replaceWith(made);
    else {
      old?.remove();
      const before = a ? document.getElementById(a) : null;
      if (before?.parentNode === list) before.after(made);
      else list.prepend(made);
    }
  }
}
