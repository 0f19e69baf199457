// @ts-check
// Walls from point to point, and the windows and doors that stand in them.
import * as hit from '../hit.js';
import { along, distance, nearest, ortho } from '../shapes.js';
import { send } from '../send.js';
import { typing } from './typed.js';

/** @typedef {import('../board.js').Board} Board @typedef {import('../board.js').Pen} Pen @typedef {import('../model.js').Point} Point */

// What a wall is thick and an opening large until it is set: common practice,
// no published source.
const thickness = { wall: 0.12, partition: 0.05 };
const sizes = { door: { width: 0.914, sill: 0, head: 2.134 }, window: { width: 1.2, sill: 0.9, head: 2.1 } };

/** @param {Board} board @param {'wall' | 'partition'} kind @returns {import('../board.js').Tool} */
export function wallTool(board, kind) {
  /** @type {Point[]} */
  let points = [];
  /** @type {Point | null} */
  let end = null;
  let keyed = false;

  /** @param {Pen} pen @returns {Point} */
  const point = (pen) => (pen.shift && points.length > 0 ? ortho(points[points.length - 1], pen.p) : board.snapped(pen, points).at);

  function show() {
    const all = end ? [...points, end] : points;
    board.preview.set('gesture', [{ kind: 'line', points: all, name: 'measure' }, ...points.map((at) => /** @type {const} */ ({ kind: 'handle', at }))]);
    if (all.length > 1) board.say(`${board.span(all[all.length - 2], all[all.length - 1])}. Click, type a length, or Enter to end`);
  }

  /** @param {Point} at */
  function add(at) {
    const last = points[points.length - 1];
    if (last && distance(last, at) < 0.01) return finish(); // a double click ends the wall
    points.push(at);
    board.pen = at;
    end = null;
    if (points.length > 2 && distance(at, points[0]) < 1e-3) finish();
    else show();
  }

  function finish() {
    const at = points;
    clear();
    if (at.length > 1) send({ do: 'walls', kind, thickness: thickness[kind], at });
  }

  function clear() {
    points = [];
    end = null;
    typed.clear();
    board.preview.set('gesture', []);
    board.noGuides();
  }

  const typed = typing(board, (length, direction) => {
    const last = points[points.length - 1];
    if (last) add(along(last, direction ? [last[0] + direction[0], last[1] + direction[1]] : end ?? [last[0] + 1, last[1]], length));
  });

  return {
    name: kind,
    cursor: 'crosshair',
    enter: () => board.say(`Click where the ${kind} begins`),
    leave: clear,
    down(pen) {
      typed.clear();
      add(point(pen));
    },
    move(pen) {
      end = point(pen);
      keyed = pen.keyed;
      if (points.length > 0) show();
    },
    key(event) {
      if (points.length > 0 && typed.key(event)) return true;
      if (event.key === 'Backspace' && points.length > 0) {
        points.pop();
        show();
        return true;
      }
      if (event.key === 'Enter' && points.length > 1 && !(keyed && end)) {
        finish();
        return true;
      }
      return false;
    },
    cancel() {
      const some = points.length > 0;
      clear();
      return some;
    },
  };
}

/** @param {Board} board @param {'door' | 'window'} kind @returns {import('../board.js').Tool} */
export function openingTool(board, kind) {
  let { width } = sizes[kind];

  /** @param {Pen} pen */
  function spot(pen) {
    const walls = { ...board.model, walls: board.model.walls.filter((one) => one.key.startsWith('wall/')) };
    const wall = hit.wallAt(walls, pen.p, Math.max(board.radius(pen.touch) * 2, 0.3));
    if (!wall) return null;
    const length = distance(wall.a, wall.b);
    const raw = distance(wall.a, nearest(wall.a, wall.b, pen.p));
    const step = board.snapping && !pen.free ? board.step() : 0;
    const at = Math.min(Math.max(step > 0 ? Math.round(raw / step) * step : raw, width / 2), length - width / 2);
    return { wall, at, length };
  }

  const typed = typing(board, (length) => {
    width = length;
    board.say(`${kind} ${board.length(width)} wide`);
  });

  return {
    name: 'opening',
    cursor: 'crosshair',
    enter: () => board.say(`Click a wall for a ${kind} ${board.length(width)} wide, or type another width first`),
    leave() {
      typed.clear();
      board.preview.set('gesture', []);
      board.noGuides();
    },
    move(pen) {
      const found = spot(pen);
      if (!found) return board.preview.set('gesture', [{ kind: 'mark', at: pen.p, name: 'ghost', text: 'no wall here' }]);
      const { wall, at, length } = found;
      board.preview.set('gesture', [{ kind: 'line', points: [along(wall.a, wall.b, at - width / 2), along(wall.a, wall.b, at + width / 2)], name: 'selected-wall' }]);
      board.say(`${kind} ${board.length(width)} wide, ${board.length(at - width / 2)} and ${board.length(length - at - width / 2)} from the ends`);
    },
    down(pen) {
      const found = spot(pen);
      if (!found) return board.say(`Not placed: a ${kind} stands in a wall, and here is none`);
      const { sill, head } = sizes[kind];
      send({ do: 'opening', kind, wall: found.wall.key.slice('wall/'.length), along: found.at, width, sill, head });
    },
    key: (event) => typed.key(event),
  };
}
