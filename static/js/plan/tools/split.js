// @ts-check
// Splits the room under the first click along a line to the second.
import * as hit from '../hit.js';
import { minus, ortho, plus } from '../shapes.js';

/** @typedef {import('../board.js').Board} Board @typedef {import('../board.js').Pen} Pen @typedef {import('../model.js').Point} Point */

/** @param {Board} board @param {(room: string, a: Point, b: Point) => void} finish @returns {import('../board.js').Tool} */
export function splitTool(board, finish) {
  /** @type {Point | null} */
  let first = null;

  /** @param {Pen} pen @returns {Point} */
  const point = (pen) => (pen.shift && first ? ortho(first, pen.p) : board.snapped(pen, first ? [first] : []).at);

  function clear() {
    first = null;
    board.preview.set('gesture', []);
    board.noGuides();
  }

  return {
    name: 'split',
    cursor: 'crosshair',
    enter: () => board.say('Click two points of the line along which a room is split'),
    leave: clear,
    down(pen) {
      const at = point(pen);
      if (!first) {
        first = at;
        return board.preview.set('gesture', [{ kind: 'mark', at, name: 'measure-end' }]);
      }
      const a = first;
      const half = minus(at, a);
      const room = hit.roomAt(board.model, plus(a, [half[0] / 2, half[1] / 2]));
      if (!room) return board.say('The middle of the line lies in no room: draw it across the room to split');
      clear();
      finish(room.id, a, at);
    },
    move(pen) {
      if (!first) return;
      const at = point(pen);
      board.preview.set('gesture', [{ kind: 'line', points: [first, at], name: 'measure' }]);
      board.say(board.span(first, at));
    },
    cancel() {
      const some = first !== null;
      clear();
      return some;
    },
  };
}
