// @ts-check
// What can be done with what is selected: the same list for the panel beside the
// plan and for the menu at the pointer.
import * as Clipboard from './clipboard.js';
import * as Model from './model.js';
import { send } from './send.js';
import { bounds } from './model.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Point} Point */
/** @typedef {{name: string, keys?: string, group: 'room' | 'align' | 'clip' | 'plan', run: () => void}} Action */
/** @typedef {{choose: (name: string) => void, grid: (room: string) => void, press: (id: string) => void}} Plan */

const alignments = [['left', 'Align left'], ['column', 'Align in a column'], ['right', 'Align right'], ['top', 'Align top'], ['row', 'Align in a row'], ['bottom', 'Align bottom']];

/** @param {Board} board @param {Plan} plan @returns {Action[]} */
export function actions(board, plan) {
  const keys = [...board.selection.keys];
  const rooms = keys.filter((key) => key.startsWith('room/'));
  const spots = keys.filter((key) => /^(device|fixture|seat|rooflight)\//.test(key));
  /** @type {Action[]} */
  const out = [];
  /** @param {Action['group']} group @param {string} name @param {() => void} run @param {string} [shortcut] */
  const add = (group, name, run, shortcut) => { out.push({ group, name, run, keys: shortcut }); };

  if (rooms.length === 1 && keys.length === 1) {
    add('room', 'Columns and rows...', () => plan.grid(rooms[0].slice('room/'.length)), 'G');
    add('room', 'Split...', () => plan.choose('split'), 'X');
    add('room', 'Divide into areas that fit...', () => location.assign(`${location.pathname}/divide?room=${rooms[0].slice('room/'.length)}`));
  }
  if (rooms.length > 1 && rooms.length === keys.length) add('room', `Merge into ${Model.room(board.model, rooms[0])?.name ?? ''}`, () => merge(board), 'J');
  if (spots.length > 1 && spots.length === keys.length) for (const [to, name] of alignments) add('align', name, () => send({ do: 'align', things: keys, to }));
  if (spots.length > 2 && spots.length === keys.length) {
    add('align', 'Equal gaps across', () => send({ do: 'distribute', things: keys, to: 'across' }));
    add('align', 'Equal gaps up', () => send({ do: 'distribute', things: keys, to: 'up' }));
  }
  if (keys.length > 0) {
    add('clip', 'Copy', () => Clipboard.copy(board, false), 'Ctrl+C');
    add('clip', 'Cut', () => Clipboard.copy(board, true), 'Ctrl+X');
    add('clip', 'Copy beside', () => duplicate(board), 'Ctrl+D');
    if (keys.some((key) => Model.thing(board.model, key)?.turns)) add('plan', 'Turn by 90 degrees', () => send({ do: 'turn', things: keys.filter((key) => Model.thing(board.model, key)?.turns), turn: 90 }));
    add('plan', 'Take off the plan', () => send({ do: 'take off', things: keys }), 'Delete');
  }
  if (Clipboard.any()) {
    add('clip', 'Paste here', () => Clipboard.pasteHeld(board, false), 'Ctrl+V');
    add('clip', 'Paste at the same coordinates', () => Clipboard.pasteHeld(board, true), 'Shift+Ctrl+V');
  }
  return out;
}

/** @param {Board} board */
export function merge(board) {
  const things = [...board.selection.keys];
  if (things.length < 2 || things.some((key) => !key.startsWith('room/'))) return board.say('Select the rooms to merge first, the one that stays before the others');
  send({ do: 'merge', things });
}

/** Copies what is selected beside it, or as far again as the copy that it is lies from its original. @param {Board} board */
export function duplicate(board) {
  const things = [...board.selection.keys].filter((key) => !key.startsWith('opening/'));
  if (things.length === 0) return board.say('Select what to copy first');
  const again = board.copied.by && things.length === board.copied.keys.length && things.every((key) => board.copied.keys.includes(key));
  copyBy(board, things, again && board.copied.by ? board.copied.by : beside(board, things));
}

/** @param {Board} board @param {string[]} things @param {Point} by */
export function copyBy(board, things, by) {
  board.selectNew = true;
  board.copied = { by, keys: [] };
  send({ do: 'copy', things, by });
}

/** Rooms go clear of themselves, other things a step aside. @param {Board} board @param {string[]} things @returns {Point} */
function beside(board, things) {
  const corners = things.flatMap((key) => Model.room(board.model, key)?.outline[0] ?? []);
  if (corners.length > 0) {
    const [left, , right] = bounds(corners);
    return [right - left, 0];
  }
  const step = Math.max(board.step(), 16 / board.view.scale);
  return [step, -step];
}
