// @ts-check
// One finished gesture is one edit. Steps of the arrow keys that follow each
// other within half a second are one gesture.

/** @typedef {import('./model.js').Point} Point */

const pause = 500; // ms after the last arrow key

/** @type {{things: string[], by: Point, timer: number} | null} */
let waiting = null;

/** @param {Record<string, unknown>} gesture */
export function send(gesture) {
  flush();
  post(gesture);
}

/** @param {Record<string, unknown>} gesture */
function post(gesture) {
  window.htmx.ajax('POST', document.getElementById('board')?.dataset.gesture ?? '', { source: '#bench', target: '#bench', swap: 'none', values: { gesture: JSON.stringify(gesture) } });
}

/** Adds one step of an arrow key. @param {string[]} things @param {Point} by @returns {Point} what waits to be sent in all */
export function nudge(things, by) {
  if (waiting && waiting.things.join() !== things.join()) flush();
  if (waiting) clearTimeout(waiting.timer);
  const before = waiting?.by ?? [0, 0];
  waiting = { things, by: [before[0] + by[0], before[1] + by[1]], timer: window.setTimeout(flush, pause) };
  return waiting.by;
}

/** Sends what waits. */
export function flush() {
  if (!waiting) return;
  const { things, by, timer } = waiting;
  clearTimeout(timer);
  waiting = null;
  if (by[0] !== 0 || by[1] !== 0) post({ do: 'move', things, by });
}

/** Forgets what waits; tells whether something did. */
export function drop() {
  if (!waiting) return false;
  clearTimeout(waiting.timer);
  waiting = null;
  return true;
}

window.addEventListener('pagehide', flush);
