// @ts-check
// What happened, line by line, with the levels that followed: the same as the
// charts, for reading, for screen readers and for paper.
import { clockText, dateAt, dayText, span } from './clock.js';
import { byId, element } from './model.js';
import { percent } from './tracks.js';

/** @typedef {import('./tracks.js').Answer} Answer @typedef {import('./tracks.js').Entry} Entry @typedef {import('./model.js').Load} Load */

const fewNext = 3;

/** @param {Entry} entry @param {Answer} answer @param {Load[]} loads */
function row(entry, answer, loads) {
  const line = document.createElement('tr');
  const date = dateAt(answer.wall, entry.at);
  const time = document.createElement('th');
  time.scope = 'row';
  time.append(element('time', clockText(date)));
  time.title = dayText(date);
  const what = element('td', entry.what, 'wrap');
  if (entry.own) what.classList.add('own');
  line.append(time, what, element('td', entry.why, 'wrap soft'));
  const levels = new Map(entry.levels);
  for (const load of loads) {
    const level = levels.get(load.id);
    const text = level === undefined ? '' : load.receptacle ? (level > 0 ? 'live' : 'dead') : level <= 0.05 ? 'off' : percent(level);
    line.append(element('td', text, 'num'));
  }
  return line;
}

/** Adds the lines up to now; draws anew what changed. */
export class Timeline {
  /** @type {Answer | null} */ #answer = null;
  #drawn = 0;
  #day = '';

  /** @param {Answer} answer @param {number} now @param {Load[]} loads @returns {Entry[]} lines that came since the last time */
  show(answer, now, loads) {
    const body = /** @type {HTMLTableSectionElement} */ (byId('happened').querySelector('tbody'));
    const past = answer.log.filter((entry) => entry.at <= now + 1e-6).length;
    const anew = answer !== this.#answer || past < this.#drawn;
    const before = this.#drawn;
    if (anew) {
      body.replaceChildren();
      this.#answer = answer;
      this.#drawn = 0;
      this.#day = '';
    }
    for (const entry of answer.log.slice(this.#drawn, past)) {
      const day = dayText(dateAt(answer.wall, entry.at));
      if (day !== this.#day) body.append(this.#newDay(day, loads.length + 3));
      body.append(row(entry, answer, loads));
    }
    if (past !== this.#drawn) {
      const box = body.closest('.scroll');
      if (box) box.scrollTop = box.scrollHeight;
    }
    this.#drawn = past;
    byId('nothing-happened').hidden = past > 0;
    return answer.log.slice(Math.min(before, past), past);
  }

  /** @param {string} day @param {number} columns */
  #newDay(day, columns) {
    this.#day = day;
    const line = element('tr', '', 'group');
    const head = /** @type {HTMLTableCellElement} */ (element('th', day));
    head.colSpan = columns;
    line.append(head);
    return line;
  }
}

/** "L1, L2 to 50 %; L3 off" @param {Entry} entry @param {Load[]} loads */
function effect(entry, loads) {
  /** @type {Map<string, string[]>} */
  const groups = new Map();
  for (const load of loads) {
    const level = entry.levels.find(([id]) => id === load.id)?.[1];
    if (level === undefined) continue;
    const text = load.receptacle ? (level > 0 ? 'live' : 'dead') : level <= 0.05 ? 'off' : `to ${percent(level)}`;
    groups.set(text, [...groups.get(text) ?? [], load.tag]);
  }
  return [...groups].map(([text, tags]) => `${tags.join(', ')} ${text}`).join('; ');
}

/** What comes by itself. @param {Answer} answer @param {number} now @param {Load[]} loads */
export function showNext(answer, now, loads) {
  const list = byId('coming');
  const entries = answer.log.filter((entry) => entry.at > now + 1e-6).slice(0, fewNext);
  const texts = entries.map((entry) => {
    const then = effect(entry, loads);
    return `In ${span(entry.at - now)}: ${inSentence(entry.what)}${then ? `, ${then}` : ''}`;
  });
  if (texts.length === 0) texts.push('Nothing more happens by itself.');
  texts.forEach((text, i) => {
    const line = list.children[i] ?? list.appendChild(document.createElement('li'));
    if (line.textContent !== text) line.textContent = text;
  });
  while (list.children.length > texts.length) list.lastElementChild?.remove();
  return entries[0];
}

/** A text as it goes on within a sentence; a tag like "DS-1" keeps its capitals. @param {string} text */
function inSentence(text) {
  return /^[A-Z][a-z]/.test(text) ? text[0].toLowerCase() + text.slice(1) : text;
}
