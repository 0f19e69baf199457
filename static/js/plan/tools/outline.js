// @ts-check
// Draws a room by its corners: clicks, or lengths typed with a direction.
import { along, area, distance, ortho, perimeter } from '../shapes.js';
import { typing } from './typed.js';

/** @typedef {import('../board.js').Board} Board @typedef {import('../board.js').Pen} Pen @typedef {import('../model.js').Point} Point */

/** @param {Board} board @param {(ring: Point[]) => void} finish @returns {import('../board.js').Tool} */
export function outlineTool(board, finish) {
  /** @type {Point[]} */
  let corners = [];
  /** @type {Point | null} where the pen is */
  let end = null;
  let keyed = false; // the arrows put it there: Enter sets a corner

  /** @param {Pen} pen @returns {Point} */
  function point(pen) {
    const last = corners[corners.length - 1];
    if (pen.shift && last) {
      const turned = ortho(last, pen.p);
      board.noGuides();
      return board.snapping && !pen.free ? along(last, turned, Math.round(distance(last, turned) / board.step()) * board.step()) : turned;
    }
    return board.snapped(pen, corners).at;
  }

  function show() {
    const points = end ? [...corners, end] : corners;
    board.preview.set('gesture', [
      { kind: 'line', points, closed: points.length > 2, name: 'outline' },
      ...corners.map((at) => /** @type {const} */ ({ kind: 'handle', at })),
    ]);
    const last = corners[corners.length - 1];
    if (!last) board.say('Click the first corner');
    else if (points.length > 2) board.say(`${end ? `${board.span(last, end)}; ` : ''}${board.area(Math.abs(area(points)))}, ${board.length(perimeter(points))} around. Enter closes it`);
    else if (end) board.say(`${board.span(last, end)}. Click, or type a length`);
  }

  /** @param {Point} at */
  function add(at) {
    if (corners.length > 2 && distance(at, corners[0]) < 1e-3) return close();
    if (corners.length === 0 || distance(at, corners[corners.length - 1]) > 1e-3) corners.push(at);
    board.pen = at;
    end = null;
    show();
  }

  function close() {
    if (corners.length < 3) return board.say('An outline needs at least three corners');
    const ring = corners;
    clear();
    finish(ring);
  }

  function clear() {
    corners = [];
    end = null;
    typed.clear();
    board.preview.set('gesture', []);
    board.noGuides();
  }

  const typed = typing(board, (length, direction) => {
    const last = corners[corners.length - 1];
    if (!last) return;
    const towards = /** @type {Point} */ (direction ? [last[0] + direction[0], last[1] + direction[1]] : end ?? [last[0] + 1, last[1]]);
    add(along(last, towards, length));
  });

  return {
    name: 'outline',
    cursor: 'crosshair',
    enter: () => board.say('Click the first corner, or put the pen there with the arrows and press Enter'),
    leave: clear,
    down(pen) {
      typed.clear();
      add(point(pen));
    },
    move(pen) {
      end = point(pen);
      keyed = pen.keyed;
      show();
    },
    key(event) {
      if (corners.length > 0 && typed.key(event)) return true;
      if (event.key === 'Backspace' && corners.length > 0) {
        corners.pop();
        show();
        return true;
      }
      if (event.key === 'Enter' && corners.length > 2 && !(keyed && end)) {
        close();
        return true;
      }
      return false;
    },
    cancel() {
      const some = corners.length > 0;
      clear();
      return some;
    },
  };
}
