// @ts-check
// The corners of the selected room: walked and moved from the keyboard, and as a
// table of numbers beside the plan.
import * as Model from './model.js';
import { nudgeCorner, send } from './send.js';
import { plus } from './shapes.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Point} Point */

const mostRows = 60; // corners that the panel lists; the table of the storey lists all

let open = false; // the person opened the list

/** The one selected room with its outer ring. @param {Board} board */
export function shape(board) {
  if (board.selection.keys.size !== 1) return null;
  const room = Model.room(board.model, [...board.selection.keys][0]);
  return room && room.outline.length > 0 ? { room, ring: room.outline[0] } : null;
}

/** The chosen corner, where it is there still. @param {Board} board */
export function chosen(board) {
  const now = shape(board);
  const corner = board.corner;
  if (!now || !corner || corner.room !== now.room.id || corner.index >= now.ring.length) return null;
  return { ...now, index: corner.index, at: now.ring[corner.index] };
}

/** @param {Board} board @param {number} step @returns {boolean} whether a room is selected whose corners can be walked */
export function walk(board, step) {
  const now = shape(board);
  if (!now) return false;
  const before = chosen(board)?.index ?? (step > 0 ? -1 : now.ring.length);
  const index = (before + step + now.ring.length) % now.ring.length;
  board.corner = { room: now.room.id, index };
  board.selection.changed();
  return true;
}

/** Where the chosen corner is; empty for none. @param {Board} board */
export function said(board) {
  const now = chosen(board);
  if (!now) return '';
  return `Corner ${now.index + 1} of ${now.ring.length}: ${board.length(now.at[0])} right, ${board.length(now.at[1])} up. Arrows move it, Insert adds one behind it, Delete takes it out`;
}

/** One step of an arrow key. @param {Board} board @param {Point} by @returns {boolean} */
export function nudge(board, by) {
  const now = chosen(board);
  if (!now) return false;
  const at = plus(now.at, nudgeCorner(now.room.id, now.index, now.at, by));
  board.preview.set('gesture', [{ kind: 'line', points: now.ring.map((p, i) => (i === now.index ? at : p)), closed: true, name: 'outline' }]);
  board.say(`Corner ${now.index + 1}: ${board.length(at[0])} right, ${board.length(at[1])} up`);
  return true;
}

/** @param {Board} board @returns {boolean} */
export function remove(board) {
  const now = chosen(board);
  if (now) send({ do: 'remove corner', room: now.room.id, corner: now.index });
  return now !== null;
}

/** A new corner in the middle of the side behind the chosen one. @param {Board} board @returns {boolean} */
export function add(board) {
  const now = chosen(board);
  if (!now) return false;
  after(now.room.id, now.ring, now.index);
  board.corner = { room: now.room.id, index: now.index + 1 };
  return true;
}

/** @param {string} room @param {Point[]} ring @param {number} index */
function after(room, ring, index) {
  const next = ring[(index + 1) % ring.length];
  send({ do: 'add corner', room, corner: index, at: [[(ring[index][0] + next[0]) / 2, (ring[index][1] + next[1]) / 2]] });
}

/** The table of the selected room's corners. @param {Board} board @returns {HTMLElement[]} */
export function table(board) {
  const now = shape(board);
  if (!now) return [];
  const details = document.createElement('details');
  details.id = 'corner-list';
  details.open = open;
  details.addEventListener('toggle', () => { open = details.open; });
  const summary = document.createElement('summary');
  summary.textContent = `Corners (${now.ring.length})`;
  const list = document.createElement('table');
  list.className = 'list';
  const head = list.createTHead().insertRow();
  for (const title of ['', 'x', 'y', '']) {
    const th = document.createElement('th');
    th.scope = 'col';
    th.textContent = title;
    head.append(th);
  }
  const body = list.createTBody();
  now.ring.slice(0, mostRows).forEach((at, index) => {
    const row = body.insertRow();
    if (chosen(board)?.index === index) row.setAttribute('aria-selected', 'true');
    row.insertCell().textContent = String(index + 1);
    for (const axis of /** @type {const} */ ([0, 1])) row.insertCell().append(field(board, now.room.id, at, index, axis));
    row.insertCell().append(
      button('+', `Add a corner behind corner ${index + 1}`, `corner-add-${index}`, () => after(now.room.id, now.ring, index)),
      button('\u2212', `Take corner ${index + 1} out`, `corner-remove-${index}`, () => send({ do: 'remove corner', room: now.room.id, corner: index })),
    );
  });
  details.append(summary, list);
  if (now.ring.length > mostRows) {
    const more = document.createElement('p');
    more.className = 'hint';
    more.textContent = 'The table of this storey lists all corners.';
    details.append(more);
  }
  return [details];
}

/** @param {Board} board @param {string} room @param {Point} at @param {number} index @param {0 | 1} axis */
function field(board, room, at, index, axis) {
  const input = document.createElement('input');
  input.id = `corner-${index}-${axis === 0 ? 'x' : 'y'}`;
  input.value = board.length(at[axis]);
  input.autocomplete = 'off';
  input.setAttribute('aria-label', `Corner ${index + 1}, ${axis === 0 ? 'x' : 'y'}`);
  input.addEventListener('change', () => {
    const text = input.value.trim();
    const length = board.parse(text.replace(/^-/, ''));
    if (length === null) {
      input.setAttribute('aria-invalid', 'true');
      return board.say(`"${text}" is no length: type 12' 6", -3.81m or 3810mm`);
    }
    /** @type {Point} */
    const to = [...at];
    to[axis] = text.startsWith('-') ? -length : length;
    send({ do: 'move corner', room, corner: index, at: [to] });
  });
  return input;
}

/** @param {string} text @param {string} title @param {string} id @param {() => void} run */
export function button(text, title, id, run) {
  const element = document.createElement('button');
  element.type = 'button';
  element.id = id;
  element.className = 'quiet';
  element.textContent = text;
  element.title = title;
  if (text.length === 1) element.setAttribute('aria-label', title);
  element.addEventListener('click', run);
  return element;
}
