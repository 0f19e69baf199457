// @ts-check
// Says aloud what changed, gathered so that a screen reader keeps up.
import { byId } from './model.js';

const gather = 400; // ms
const most = 4; // sentences at once

/** @type {string[]} */
let waiting = [];
let timer = 0;

/** @param {string} sentence */
export function say(sentence) {
  if (!sentence) return;
  waiting.push(sentence);
  if (timer) return;
  timer = window.setTimeout(() => {
    const left = waiting.length - most;
    byId('rehearse-said').textContent = waiting.slice(-most).join('. ') + (left > 0 ? `; and ${left} more changes before` : '');
    waiting = [];
    timer = 0;
  }, gather);
}
