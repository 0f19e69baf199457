// @ts-check
// Copy, cut and paste, between storeys and windows of this browser. The system's
// clipboard gets a table as text, for a spreadsheet; what the server needs to
// paste lies beside it in this browser's storage and counts as long as the
// clipboard still holds that text.
import * as Model from './model.js';
import { trim } from './lengths.js';
import { send } from './send.js';
import { minus } from './shapes.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Point} Point */
/** @typedef {{text: string, from: string, anchor: Point, clip: unknown}} Held */

const shelf = 'plan clipboard';
let straight = false; // Shift: the same coordinates

const address = () => document.getElementById('board')?.dataset.gesture ?? '';

/** @param {HTMLElement} stage @param {Board} board */
export function listen(stage, board) {
  const here = () => document.activeElement === stage || document.activeElement === document.body;
  document.addEventListener('keydown', (event) => { straight = event.shiftKey; }, true);
  for (const kind of /** @type {const} */ (['copy', 'cut'])) {
    document.addEventListener(kind, (event) => {
      if (document.activeElement !== stage || board.selection.keys.size === 0) return;
      event.preventDefault();
      const text = table(board);
      event.clipboardData?.setData('text/plain', text);
      take(board, text, kind === 'cut');
    });
  }
  document.addEventListener('paste', (event) => {
    if (!here()) return;
    event.preventDefault();
    paste(board, event.clipboardData?.getData('text/plain') ?? '', straight);
  });
}

/** From the menu, where the browser gives no access to what it would paste. @param {Board} board @param {boolean} cut */
export function copy(board, cut) {
  const text = table(board);
  navigator.clipboard?.writeText(text).catch(() => {}); // the plan's own clipboard does without
  take(board, text, cut);
}

/** @param {Board} board @param {boolean} same at the same coordinates */
export const pasteHeld = (board, same) => paste(board, held()?.text ?? '', same);

export const any = () => held() !== null;

/** @returns {Held | null} */
function held() {
  try {
    return JSON.parse(localStorage.getItem(shelf) ?? 'null');
  } catch {
    return null;
  }
}

/** Asks the server what the things are, and takes them away afterwards where they are cut. @param {Board} board @param {string} text @param {boolean} cut */
async function take(board, text, cut) {
  const things = [...board.selection.keys];
  const anchor = middle(board, things);
  try {
    const answer = await fetch(address().replace(/gesture$/, 'copied'), { method: 'POST', body: new URLSearchParams({ things: JSON.stringify(things) }) });
    if (!answer.ok) return board.say(`Not copied: ${await answer.text()}`);
    /** @type {Held} */
    const now = { text, from: address(), anchor, clip: await answer.json() };
    localStorage.setItem(shelf, JSON.stringify(now));
  } catch {
    return board.say('Not copied: the server cannot be reached, or this browser has no room to keep it');
  }
  board.say(`${cut ? 'Cut' : 'Copied'} ${things.length} ${things.length === 1 ? 'thing' : 'things'}`);
  if (cut) send({ do: 'cut', things });
}

/** @param {Board} board @param {string} text @param {boolean} same */
function paste(board, text, same) {
  const now = held();
  if (!now || now.text !== text) return board.say('Not pasted: the clipboard holds nothing that was copied on a plan');
  board.selectNew = true;
  send({ do: 'paste', clip: now.clip, by: offset(board, now, same) });
}

/** To the pointer; from the keyboard to the same place on another storey, or a step beside it on the same one.
 * @param {Board} board @param {Held} now @param {boolean} same @returns {Point} */
function offset(board, now, same) {
  if (same) return [0, 0];
  if (!board.pointed) return now.from === address() ? [board.step(), -board.step()] : [0, 0];
  const by = minus(board.pen, now.anchor);
  const step = board.snapping ? board.step() : 0;
  return step > 0 ? [Math.round(by[0] / step) * step, Math.round(by[1] / step) * step] : by;
}

/** @param {Board} board @param {string[]} keys @returns {Point} */
function middle(board, keys) {
  const points = keys.flatMap((key) => {
    const at = Model.place(board.model, key);
    return at ? [at] : [];
  });
  if (points.length === 0) return [0, 0];
  const [left, bottom, right, top] = Model.bounds(points);
  return [(left + right) / 2, (bottom + top) / 2];
}

/** What is selected as a table: tabs between cells, a line a thing, places in meters. @param {Board} board */
function table(board) {
  const lines = [...board.selection.keys].map((key) => {
    const at = Model.place(board.model, key) ?? [0, 0];
    const thing = Model.thing(board.model, key);
    const wall = Model.wall(board.model, key);
    const room = thing ? board.model.rooms.find((one) => one.id === thing.room) : Model.room(board.model, key);
    const name = thing?.name ?? wall?.what ?? room?.name ?? '';
    return [name, thing?.what ?? (wall ? 'wall' : 'room'), room?.name ?? '', trim(at[0], 4), trim(at[1], 4)].map(cell).join('\t');
  });
  return ['Thing\tWhat\tRoom\tx (m)\ty (m)', ...lines].join('\n');
}

/** No cell may begin a formula in a spreadsheet. @param {string} text */
function cell(text) {
  const plain = text.replace(/[\t\r\n]/g, ' ');
  return /^[=+@]/.test(plain) || /^-(?!\d)/.test(plain) ? `'${plain}` : plain;
}
