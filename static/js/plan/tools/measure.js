// @ts-check
// Measures: two clicks give a length, more a chain with its area.
import { area, distance, ortho } from '../shapes.js';

/** @typedef {import('../board.js').Board} Board @typedef {import('../board.js').Pen} Pen @typedef {import('../model.js').Point} Point */

/** @param {Board} board @returns {import('../board.js').Tool} */
export function measureTool(board) {
  /** @type {Point[]} */
  let points = [];
  /** @type {Point | null} */
  let end = null;

  /** @param {Pen} pen @returns {Point} */
  const point = (pen) => (pen.shift && points.length > 0 ? ortho(points[points.length - 1], pen.p) : board.snapped(pen, points).at);

  function show() {
    const all = end ? [...points, end] : points;
    board.preview.set('gesture', [{ kind: 'line', points: all, name: 'measure' }, ...all.map((at) => /** @type {const} */ ({ kind: 'mark', at, name: 'measure-end' }))]);
    if (all.length < 2) return;
    const [a, b] = all.slice(-2);
    const total = all.slice(1).reduce((sum, p, i) => sum + distance(all[i], p), 0);
    const angle = Math.round(((Math.atan2(b[1] - a[1], b[0] - a[0]) * 180) / Math.PI) * 10) / 10;
    const chain = all.length > 2 ? `; ${board.length(total)} in all, encloses ${board.area(Math.abs(area(all)))}` : '';
    board.say(`${board.span(a, b)} (${board.length(b[0] - a[0])} right, ${board.length(b[1] - a[1])} up, ${angle}\u00b0)${chain}`);
  }

  function clear() {
    points = [];
    end = null;
    board.preview.set('gesture', []);
    board.noGuides();
  }

  return {
    name: 'measure',
    cursor: 'crosshair',
    enter: () => board.say('Click two points'),
    leave: clear,
    down(pen) {
      points.push(point(pen));
      end = null;
      show();
    },
    move(pen) {
      const at = point(pen);
      if (points.length === 0) return;
      end = at;
      show();
    },
    cancel() {
      const some = points.length > 0;
      clear();
      return some;
    },
  };
}
