// @ts-check
// Places a device of a room's list with one click, or the luminaires of a load
// in rows over a rectangle.
import * as Model from '../model.js';
import { send } from '../send.js';
import { bounds } from '../model.js';
import { distance } from '../shapes.js';

/** @typedef {import('../board.js').Board} Board @typedef {import('../board.js').Pen} Pen @typedef {import('../model.js').Point} Point */

/** @param {Board} board @param {() => void} done @param {string} key @param {string} name @returns {import('../board.js').Tool} */
export function placeTool(board, done, key, name) {
  /** @param {Pen} pen */
  const at = (pen) => board.snapped(pen, []).at;
  return {
    name: 'place',
    cursor: 'crosshair',
    enter() {
      const outer = board.model.rooms.find((room) => room.id === key.split('/')[1])?.outline[0];
      if (outer) board.pen = /** @type {Point} */ (Model.place(board.model, `room/${key.split('/')[1]}`));
      board.preview.set('gesture', [{ kind: 'ring', at: board.pen, name: 'ghost', text: name }]);
      board.say(`Click where ${name} goes, or move it with the arrows and press Enter`);
    },
    leave() {
      board.preview.set('gesture', []);
      board.noGuides();
    },
    move: (pen) => board.preview.set('gesture', [{ kind: 'ring', at: at(pen), name: 'ghost', text: name }]),
    down(pen) {
      send({ do: 'place device', things: [key], at: [at(pen)] });
      done();
      board.selection.set([key]);
    },
  };
}

/** @param {Board} board @param {() => void} done @param {{room: string, load: string, left: number, name: string}} what @returns {import('../board.js').Tool} */
export function rowsTool(board, done, what) {
  /** @type {Point | null} */
  let first = null;
  /** @type {Point | null} */
  let end = null;
  let rows = 0; // 0: as the rectangle's shape asks for
  /** @type {Point | null} where the pen went down */
  let from = null;
  let dragged = false;

  function places() {
    if (!first || !end) return [];
    const [left, bottom, right, top] = bounds([first, end]);
    return grid(left, bottom, right, top, what.left, rows);
  }

  function show() {
    const all = places();
    board.preview.set('gesture', [
      ...(first && end ? [/** @type {const} */ ({ kind: 'line', points: /** @type {Point[]} */ ([first, [end[0], first[1]], end, [first[0], end[1]]]), closed: true, name: 'outline' })] : []),
      ...all.map((at) => /** @type {const} */ ({ kind: 'mark', at, name: 'ghost' })),
    ]);
    if (all.length === 0) return;
    const ys = [...new Set(all.map((p) => p[1]))];
    const row = all.filter((p) => p[1] === ys[0]);
    board.say(`${all.length} of ${what.name} in ${ys.length} rows${row.length > 1 ? `, ${board.length(Math.abs(row[1][0] - row[0][0]))} apart` : ''}${ys.length > 1 ? `, rows ${board.length(Math.abs(ys[1] - ys[0]))}` : ''}. Up and Down change the rows; a click or Enter places, a drag sets another field`);
  }

  function place() {
    const at = places();
    if (at.length === 0) return;
    send({ do: 'place luminaires', room: what.room, load: what.load, at });
    done();
  }

  return {
    name: 'rows',
    cursor: 'crosshair',
    enter() {
      const outer = board.model.rooms.find((room) => room.id === what.room)?.outline[0];
      if (outer) {
        const [left, bottom, right, top] = bounds(outer);
        [first, end] = [[left, bottom], [right, top]];
        show();
      } else board.say(`Drag over the field in which ${what.left} luminaires of ${what.name} hang`);
    },
    leave() {
      board.preview.set('gesture', []);
      board.noGuides();
    },
    down(pen) {
      from = board.snapped(pen, []).at;
      dragged = false;
    },
    move(pen) {
      if (!pen.pressed || !from) return;
      const at = board.snapped(pen, [from]).at;
      dragged = dragged || distance(at, from) > board.radius(pen.touch);
      if (!dragged) return;
      [first, end] = [from, at];
      show();
    },
    up() {
      from = null;
      if (!dragged) place();
    },
    key(event) {
      if (event.key === 'ArrowUp' || event.key === 'ArrowDown') {
        const now = rows || new Set(places().map((p) => p[1])).size;
        rows = Math.min(what.left, Math.max(1, now + (event.key === 'ArrowUp' ? 1 : -1)));
        show();
        return true;
      }
      if (event.key !== 'Enter') return false;
      place();
      return true;
    },
  };
}

/** Places count luminaires in rows over a field, half a spacing from its edges; a last row that is not full is
 * spread alike. @param {number} left @param {number} bottom @param {number} right @param {number} top @param {number} count @param {number} rows @returns {Point[]} */
export function grid(left, bottom, right, top, count, rows) {
  const [w, h] = [right - left, top - bottom];
  if (count < 1 || w <= 0 || h <= 0) return [];
  const n = rows || Math.min(count, Math.max(1, Math.round(Math.sqrt((count * h) / w))));
  const each = Math.ceil(count / n);
  const full = Math.ceil(count / each);
  /** @type {Point[]} */
  const out = [];
  for (let r = 0; r < full; r++) {
    const here = Math.min(each, count - r * each);
    for (let c = 0; c < here; c++) out.push([left + ((c + 0.5) * w) / here, top - ((r + 0.5) * h) / full]);
  }
  return out;
}
