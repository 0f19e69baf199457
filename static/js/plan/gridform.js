// @ts-check
// The dialog that places luminaires of a load, or seats, in columns and rows.
import { bounds } from './model.js';
import { send } from './send.js';

/** @typedef {import('./board.js').Board} Board */

/** @param {string} id */
const field = (id) => /** @type {HTMLInputElement | HTMLSelectElement} */ (document.getElementById(id));

/** @param {Board} board @param {string} room that is selected */
export function openGrid(board, room) {
  const dialog = /** @type {HTMLDialogElement} */ (document.getElementById('grid-dialog'));
  const drawn = board.model.rooms.filter((one) => one.outline.length > 0);
  if (drawn.length === 0) return board.say('Draw a room first: luminaires and seats are placed in one');
  const rooms = /** @type {HTMLSelectElement} */ (field('grid-room'));
  rooms.replaceChildren(...drawn.map((one) => new Option(one.name, one.id, false, one.id === room)));
  choices(board);
  rooms.onchange = () => choices(board);
  dialog.oninput = () => tell(board);
  dialog.returnValue = '';
  dialog.onclose = () => {
    const step = steps(board);
    if (dialog.returnValue === 'place' && step) {
      board.selectNew = true;
      send({ do: 'grid', room: rooms.value, load: field('grid-what').value, columns: number('grid-columns'), rows: number('grid-rows'), step });
    }
    document.getElementById('stage')?.focus({ preventScroll: true });
  };
  dialog.showModal();
  field('grid-columns').focus();
}

/** @param {string} id */
const number = (id) => Math.trunc(Number(field(id).value)) || 0;

/** @param {Board} board */
function choices(board) {
  const room = board.model.rooms.find((one) => one.id === field('grid-room').value);
  field('grid-what').replaceChildren(...(room?.loads ?? []).map((load) => new Option(`Luminaires of ${load.tag}, ${load.left} without a place`, load.id)), new Option('Seats', ''));
  tell(board);
}

/** @param {Board} board @returns {[number, number] | null} */
function steps(board) {
  const [x, y] = ['grid-x', 'grid-y'].map((id) => (field(id).value.trim() === '' ? 0 : board.parse(field(id).value)));
  return x === null || y === null ? null : [x, y];
}

/** @param {Board} board */
function tell(board) {
  const said = document.getElementById('grid-said');
  const room = board.model.rooms.find((one) => one.id === field('grid-room').value);
  const step = steps(board);
  const [columns, rows] = [number('grid-columns'), number('grid-rows')];
  /** @type {HTMLButtonElement} */ (document.getElementById('grid-place')).disabled = step === null || columns < 1 || rows < 1;
  if (!said || !room) return;
  if (step === null) {
    said.textContent = "A spacing is a length such as 6', 1.2m or 1200mm; leave it empty to fill the room.";
    return;
  }
  const [left, bottom, right, top] = bounds(room.outline[0]);
  const across = step[0] || (right - left) / Math.max(columns, 1);
  const down = step[1] || (top - bottom) / Math.max(rows, 1);
  said.textContent = `${columns * rows} places, ${board.length(across)} apart across and ${board.length(down)} down`;
}
