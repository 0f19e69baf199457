// @ts-check
// One finished gesture is one edit. Steps of the arrow keys that follow each
// other within half a second are one gesture.
import { plus } from './shapes.js';
import { keep } from './unsent.js';

/** @typedef {import('./model.js').Point} Point */

const pause = 500; // ms after the last arrow key

/** @type {{id: string, by: Point, timer: number, make: (by: Point) => Record<string, unknown>} | null} */
let waiting = null;

/** @param {Record<string, unknown>} gesture */
export function send(gesture) {
  flush();
  keep(gesture);
}

/** Adds one step of an arrow key. @param {string[]} things @param {Point} by @returns {Point} what waits to be sent in all */
export const nudge = (things, by) => step(things.join(), by, (all) => ({ do: 'move', things, by: all }));

/** The same for a corner of an outline. @param {string} room @param {number} corner @param {Point} from where it is now @param {Point} by */
export const nudgeCorner = (room, corner, from, by) => step(`${room} ${corner}`, by, (all) => ({ do: 'move corner', room, corner, at: [plus(from, all)] }));

/** @param {string} id @param {Point} by @param {(by: Point) => Record<string, unknown>} make @returns {Point} */
function step(id, by, make) {
  if (waiting && waiting.id !== id) flush();
  if (waiting) clearTimeout(waiting.timer);
  const all = plus(waiting?.by ?? [0, 0], by);
  waiting = { id, by: all, make, timer: window.setTimeout(flush, pause) };
  return all;
}

/** Sends what waits. */
export function flush() {
  if (!waiting) return;
  const { by, make, timer } = waiting;
  clearTimeout(timer);
  waiting = null;
  if (by[0] !== 0 || by[1] !== 0) keep(make(by));
}

/** Forgets what waits; tells whether something did. */
export function drop() {
  if (!waiting) return false;
  clearTimeout(waiting.timer);
  waiting = null;
  return true;
}

window.addEventListener('pagehide', flush);
