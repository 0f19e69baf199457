// @ts-check
// What every edit needs: the version that it is based on, the saved state, and
// news from other windows.

/** @typedef {{sourceElement: Element, request: {method: string, headers: Record<string, string>}, response?: {status: number}}} Context */

let running = 0;
/** @type {Record<string, number>} versions that other windows have told of */
let heard = {};

/** @param {Event} event */
const context = (event) => /** @type {Context} */ (/** @type {CustomEvent} */ (event).detail.ctx);

/** @returns {Record<string, number>} */
function shown() {
  /** @type {Record<string, number>} */
  const versions = {};
  const version = document.getElementById('version')?.dataset;
  for (const pair of `${version?.base ?? ''},${version?.watch ?? ''}`.split(',')) {
    const at = pair.lastIndexOf('=');
    if (at > 0) versions[pair.slice(0, at)] = Number(pair.slice(at + 1));
  }
  return versions;
}

/** @param {string} state @param {string} text */
function say(state, text) {
  const status = document.getElementById('status');
  if (!status) return;
  status.dataset.state = state;
  status.textContent = text;
}

document.addEventListener('htmx:before:request', (event) => {
  const { request } = context(event);
  if (request.method === 'GET') return;
  const version = document.getElementById('version');
  if (version?.dataset.base) request.headers['X-Base-Version'] = version.dataset.base;
  running++;
  say('saving', 'Saving...');
});

document.addEventListener('htmx:finally:request', (event) => {
  const ctx = context(event);
  if (ctx.request.method === 'GET') return;
  running = Math.max(0, running - 1);
  const status = ctx.response?.status ?? 0;
  if (status === 0) say('failed', 'Not saved: the server cannot be reached. Try again.');
  else if (status >= 400 && status !== 409) say('failed', 'Not saved');
  catchUp();
});

/** Fetch the page's parts when another window's edit is newer than what is shown. */
function catchUp() {
  const bench = document.getElementById('bench');
  if (running > 0 || !bench?.dataset.parts) return;
  const now = shown();
  const behind = Object.keys(now).some((name) => (heard[name] ?? 0) > now[name]);
  if (!behind) return;
  heard = {};
  window.htmx.ajax('GET', bench.dataset.parts, { source: '#bench', target: '#bench', swap: 'none' });
}

document.addEventListener('changed', (event) => {
  const { data } = /** @type {CustomEvent} */ (event).detail;
  for (const [name, revision] of Object.entries(JSON.parse(data).subjects)) {
    heard[name] = Math.max(heard[name] ?? 0, Number(revision));
  }
  catchUp();
});

window.addEventListener('beforeunload', (event) => {
  if (running > 0) event.preventDefault();
});
