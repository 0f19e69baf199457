// @ts-check
// Draws a rectangle, as of a room: two corners by clicks or one drag, or one and
// two typed lengths.
import { distance } from '../shapes.js';
import { typing } from './typed.js';

/** @typedef {import('../board.js').Board} Board @typedef {import('../board.js').Pen} Pen @typedef {import('../model.js').Point} Point */

const room = { name: 'rectangle', enter: 'Click one corner and then the opposite one, or type width and depth', next: 'depth' };

/** @param {Board} board @param {(ring: Point[]) => void} finish @param {{name: string, enter: string, next: string}} [words] @returns {import('../board.js').Tool} */
export function rectangleTool(board, finish, words = room) {
  /** @type {Point | null} */
  let first = null;
  /** @type {Point | null} */
  let end = null;
  let width = 0; // typed, meters

  function show() {
    if (!first || !end) return;
    const w = Math.abs(end[0] - first[0]);
    const d = Math.abs(end[1] - first[1]);
    board.preview.set('gesture', [{ kind: 'line', points: corners(first, end), closed: true, name: 'outline' }]);
    board.say(`${board.length(w)} x ${board.length(d)}, ${board.area(w * d)}${width ? `. Type the ${words.next}` : ''}`);
  }

  function clear() {
    first = end = null;
    width = 0;
    typed.clear();
    board.preview.set('gesture', []);
    board.noGuides();
  }

  /** @param {Point} at */
  function close(at) {
    if (!first) return;
    if (Math.abs(at[0] - first[0]) < 1e-3 || Math.abs(at[1] - first[1]) < 1e-3) return board.say(`A rectangle needs a width and a ${words.next}`);
    const ring = corners(first, at);
    clear();
    finish(ring);
  }

  const typed = typing(board, (length) => {
    if (!first) return;
    const right = !end || end[0] >= first[0];
    const up = !end || end[1] >= first[1];
    if (!width) {
      width = length;
      end = [first[0] + (right ? width : -width), end?.[1] ?? first[1]];
      show();
    } else close([first[0] + (right ? width : -width), first[1] + (up ? length : -length)]);
  });

  return {
    name: words.name,
    cursor: 'crosshair',
    enter: () => board.say(words.enter),
    leave: clear,
    down(pen) {
      const at = board.snapped(pen, first ? [first] : []).at;
      if (first) return close(at);
      first = end = at;
      show();
    },
    move(pen) {
      const at = board.snapped(pen, first ? [first] : []).at;
      if (!first) return;
      end = width ? [first[0] + (at[0] >= first[0] ? width : -width), at[1]] : at;
      show();
    },
    up(pen) {
      const at = board.snapped(pen, first ? [first] : []).at;
      if (first && distance(at, first) > board.radius(pen.touch)) close(at);
    },
    key: (event) => first !== null && typed.key(event),
    cancel() {
      const some = first !== null;
      clear();
      return some;
    },
  };
}

/** @param {Point} a @param {Point} b @returns {Point[]} */
const corners = (a, b) => [a, [b[0], a[1]], b, [a[0], b[1]]];
