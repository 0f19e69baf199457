// @ts-check
// Gestures on their way to the server, in order. Each is kept in this browser
// until the server has answered: one that could not be sent is sent again when
// the server is back, also after a reload. A gesture carries a token, so that
// the server does not carry it out twice where only its answer was lost, and the
// versions of what it was made on, so that it never overwrites what others did.

/** @typedef {{token: string, gesture: Record<string, unknown>, base: string}} Entry */
/** @typedef {{sourceElement: Element, request: {method: string, headers: Record<string, string>, body: unknown}, response?: {status: number}}} Context */

const soonest = 2000; // ms until the next try
const latest = 15000;
const orphaned = 5 * 60 * 1000; // ms after which another window's gestures are taken for left behind
const unreachable = [0, 502, 503, 504];

const address = document.getElementById('board')?.dataset.gesture ?? '';
const shelf = `unsent ${address} `;
const own = shelf + tabName();

/** @type {Entry[]} */
let list = read(own);
/** @type {Context | null} the request that is under way */
let sending = null;
let busy = false;
let isAway = false;
let wait = soonest;
let timer = 0;

function tabName() {
  try {
    const name = sessionStorage.getItem('tab') ?? crypto.randomUUID();
    sessionStorage.setItem('tab', name);
    return name;
  } catch {
    return 'tab';
  }
}

/** @param {string} key @returns {Entry[]} */
function read(key) {
  try {
    return JSON.parse(localStorage.getItem(key) ?? '{}').list ?? [];
  } catch {
    return [];
  }
}

function save() {
  try {
    if (list.length === 0) localStorage.removeItem(own);
    else localStorage.setItem(own, JSON.stringify({ seen: Date.now(), list }));
  } catch {
    // no room or no permission: they are kept as long as the page is open
  }
}

/** What windows that are gone have left behind comes first. */
function adopt() {
  try {
    for (const key of Object.keys(localStorage)) {
      if (!key.startsWith(shelf) || key === own) continue;
      if (Date.now() - (JSON.parse(localStorage.getItem(key) ?? '{}').seen ?? 0) < orphaned) continue;
      list = [...read(key), ...list];
      localStorage.removeItem(key);
    }
  } catch {
    // nothing to adopt
  }
}

const baseNow = () => document.getElementById('version')?.dataset.base ?? '';

const newToken = () => [...crypto.getRandomValues(new Uint8Array(12))].map((b) => b.toString(16).padStart(2, '0')).join('');

/** Keeps a gesture and sends it as soon as those before it are stored. @param {Record<string, unknown>} gesture */
export function keep(gesture) {
  list.push({ token: newToken(), gesture, base: baseNow() });
  save();
  if (isAway) tell();
  else next();
}

/** Whether gestures wait for the server to come back. */
export const away = () => isAway && list.length > 0;

/** Takes the newest gesture back that waits; tells whether there was one. */
export function takeBack() {
  if (!away() || (busy && list.length === 1)) return false;
  list.pop();
  save();
  tell();
  if (list.length === 0) back();
  return true;
}

function next() {
  if (busy || list.length === 0) return;
  clearTimeout(timer);
  busy = true;
  const { gesture, token } = list[0];
  window.htmx.ajax('POST', address, { source: '#bench', target: '#bench', swap: 'none', values: { gesture: JSON.stringify(gesture), token } });
}

/** @param {Event} event */
const context = (event) => /** @type {Context} */ (/** @type {CustomEvent} */ (event).detail.ctx);

document.addEventListener('htmx:before:request', (event) => {
  const ctx = context(event);
  const { body, headers } = ctx.request;
  if (!busy || !(body instanceof URLSearchParams || body instanceof FormData) || body.get('token') !== list[0]?.token) return;
  sending = ctx;
  if (list[0].base) headers['X-Base-Version'] = list[0].base;
});

document.addEventListener('htmx:finally:request', (event) => {
  if (!sending || context(event) !== sending) return;
  const status = sending.response?.status ?? 0;
  sending = null;
  busy = false;
  if (unreachable.includes(status)) return later();
  const [done] = list.splice(0, 1);
  if (status < 400) rebase(done.base, baseNow());
  save();
  if (isAway && status >= 400) said('An edit that was kept here was not stored: the message above says why');
  back();
  next();
});

/** What waits was made on what the stored gesture was made on too: it goes on from what that made of it. Subjects
 * that someone else changed meanwhile keep their old version, and the gesture is refused. @param {string} before @param {string} after */
function rebase(before, after) {
  const [was, now] = [versions(before), versions(after)];
  for (const entry of list) {
    const own = versions(entry.base);
    for (const [name, version] of own) if (was.get(name) === version) own.set(name, now.get(name) ?? version);
    entry.base = [...own].map(([name, version]) => `${name}=${version}`).join(',');
  }
}

/** @param {string} base @returns {Map<string, string>} */
function versions(base) {
  return new Map(base.split(',').filter((pair) => pair.includes('=')).map((pair) => {
    const at = pair.lastIndexOf('=');
    return [pair.slice(0, at), pair.slice(at + 1)];
  }));
}

function later() {
  isAway = true;
  tell();
  clearTimeout(timer);
  timer = window.setTimeout(next, wait);
  wait = Math.min(latest, wait * 1.5);
}

function back() {
  isAway = false;
  wait = soonest;
  tell();
}

/** Says in the page's head and below the plan what is not saved. */
function tell() {
  const place = document.getElementById('plan-status');
  let note = document.getElementById('plan-unsent');
  const count = `${list.length} ${list.length === 1 ? 'edit' : 'edits'}`;
  if (!isAway || list.length === 0) {
    note?.remove();
    return;
  }
  const text = `Not saved: server not reachable, ${count} kept here, trying again`;
  const status = document.getElementById('status');
  if (status) {
    status.dataset.state = 'failed';
    status.textContent = `Not saved: ${count} kept here`;
  }
  if (!note && place) {
    note = document.createElement('span');
    note.id = 'plan-unsent';
    const button = document.createElement('button');
    button.type = 'button';
    button.id = 'plan-retry';
    button.textContent = 'Retry';
    note.append(document.createElement('span'), ' ', button);
    place.prepend(note);
  }
  const words = note?.querySelector('span');
  if (words && words.textContent !== text) words.textContent = text;
}

/** @param {string} text */
function said(text) {
  const place = document.getElementById('plan-said');
  if (place) place.textContent = text;
}

function retry() {
  if (list.length === 0) return;
  wait = soonest;
  next();
}

document.addEventListener('click', (event) => {
  if (/** @type {Element} */ (event.target).closest('#plan-retry')) retry();
});
window.addEventListener('online', retry);
document.addEventListener('htmx:sse:after:connection', () => { if (isAway) retry(); });
window.addEventListener('beforeunload', (event) => {
  if (away()) event.preventDefault();
});
window.setInterval(() => { if (list.length > 0) save(); }, 20000); // this window is still here

adopt();
if (list.length > 0) {
  save();
  isAway = true; // until the first of them is answered
  // htmx starts when the document is complete.
  if (document.readyState === 'complete') next();
  else window.addEventListener('load', next);
}
