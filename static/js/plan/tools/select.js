// @ts-check
// Select and move: click, rectangle, drag, and the corners of a selected room.
import { copyBy } from '../actions.js';
import * as hit from '../hit.js';
import * as Model from '../model.js';
import { area, distance, minus, plus } from '../shapes.js';
import { send } from '../send.js';

/** @typedef {import('../board.js').Board} Board @typedef {import('../board.js').Pen} Pen @typedef {import('../model.js').Point} Point */

const threshold = 4; // pixels before a press is a drag

/** @param {Board} board @returns {import('../board.js').Tool} */
export function selectTool(board) {
  /** @type {{pen: Pen, key: string | null, corner: {key: string, index: number, insert: boolean} | null} | null} */
  let pressed = null;
  /** @type {'' | 'box' | 'move' | 'corner'} */
  let doing = '';
  /** @type {Point} */
  let by = [0, 0];
  /** @type {Point[]} */
  let ring = [];

  /** What is selected, moved. @param {Point} offset */
  const ghosts = (offset) => [...board.selection.keys].flatMap((key) => ghost(key, offset));

  /** @param {string} key @param {Point} offset @returns {import('../preview.js').Shape[]} */
  function ghost(key, offset) {
    const light = Model.rooflight(board.model, key);
    if (light) return [{ kind: 'line', points: light.ring.map((p) => plus(p, offset)), closed: true, name: 'ghost' }];
    const one = Model.thing(board.model, key);
    if (one) return [{ kind: 'ring', at: plus(one.at, offset), name: 'ghost' }];
    const wall = Model.wall(board.model, key);
    if (wall) return [{ kind: 'line', points: [plus(wall.a, offset), plus(wall.b, offset)], name: 'ghost' }];
    return (Model.room(board.model, key)?.outline ?? []).map((points) => ({ kind: 'line', points: points.map((p) => plus(p, offset)), closed: true, name: 'ghost' }));
  }

  function drop() {
    doing = '';
    pressed = null;
    board.preview.set('gesture', []);
    board.noGuides();
  }

  /** @param {Pen} pen @returns {{key: string, index: number, insert: boolean} | null} */
  function handleAt(pen) {
    if (board.selection.keys.size !== 1) return null;
    const [key] = board.selection.keys;
    const outer = Model.room(board.model, key)?.outline[0];
    if (!outer) return null;
    const radius = board.radius(pen.touch);
    const index = outer.findIndex((p) => distance(p, pen.p) <= radius);
    if (index >= 0) return { key, index, insert: false };
    const after = outer.findIndex((p, i) => distance(middle(p, outer[(i + 1) % outer.length]), pen.p) <= radius);
    return after >= 0 ? { key, index: after + 1, insert: true } : null;
  }

  /** @param {Pen} pen */
  function start(pen) {
    if (!pressed) return;
    if (pressed.corner) {
      const outer = /** @type {Point[]} */ (Model.room(board.model, pressed.corner.key)?.outline[0]);
      ring = [...outer];
      if (pressed.corner.insert) ring.splice(pressed.corner.index, 0, pen.p);
      doing = 'corner';
    } else if (pressed.key && (!pressed.key.startsWith('room/') || board.selection.keys.has(pressed.key))) {
      if (!board.selection.keys.has(pressed.key)) board.selection.set([pressed.key]);
      doing = 'move';
    } else doing = 'box';
  }

  /** @param {Pen} pen */
  function drag(pen) {
    if (!pressed) return;
    if (doing === 'box') {
      const crossing = pen.p[0] < pressed.pen.p[0];
      board.preview.set('gesture', [{ kind: 'box', a: pressed.pen.p, b: pen.p, name: crossing ? 'crossing' : 'box' }]);
    } else if (doing === 'move' && pressed.key) {
      const from = /** @type {Point} */ (Model.room(board.model, pressed.key)?.outline[0][0] ?? Model.place(board.model, pressed.key));
      const raw = plus(from, minus(pen.p, pressed.pen.p));
      const at = board.snapped({ ...pen, p: raw }, [from], pressed.key).at;
      by = minus(at, from);
      if (pen.shift) by = Math.abs(by[0]) >= Math.abs(by[1]) ? [by[0], 0] : [0, by[1]];
      board.preview.set('gesture', [...ghosts(by), { kind: 'line', points: [from, plus(from, by)], name: 'guide' }]);
      board.say(`${pen.alt ? 'a copy ' : ''}${board.length(by[0])} right, ${board.length(by[1])} up`);
    } else if (doing === 'corner' && pressed.corner) {
      const before = ring[(pressed.corner.index + ring.length - 1) % ring.length];
      const after = ring[(pressed.corner.index + 1) % ring.length];
      ring[pressed.corner.index] = board.snapped(pen, [before, after], pressed.corner.key).at;
      board.preview.set('gesture', [{ kind: 'line', points: ring, closed: true, name: 'outline' }]);
      board.say(`${board.area(Math.abs(area(ring)))}; sides ${board.span(before, ring[pressed.corner.index])} and ${board.span(ring[pressed.corner.index], after)}`);
    }
  }

  /** @param {Pen} pen */
  function click(pen) {
    const key = pressed?.key ?? null;
    if (pen.alt) {
      const all = hit.all(board.model, pen.p, Math.max(board.radius(pen.touch), 0.2));
      const at = all.findIndex((one) => board.selection.keys.has(one));
      if (all.length > 0) board.selection.set([all[(at < 0 ? 1 : at + 1) % all.length]]);
    } else if (pen.shift) {
      if (key) board.selection.toggle([key]);
    } else if (key) board.selection.set([key]);
    else board.selection.clear();
  }

  /** @param {boolean} copy the originals stay */
  function moved(copy) {
    const things = [...board.selection.keys];
    if (copy) return copyBy(board, things.filter((key) => !key.startsWith('opening/')), by);
    const { by: before, keys } = board.copied; // moving a copy says how far the next one goes
    if (before && keys.length === things.length && things.every((key) => keys.includes(key))) board.copied.by = plus(before, by);
    send({ do: 'move', things, by });
  }

  return {
    name: 'select',
    cursor: 'default',
    down(pen) {
      pressed = { pen, corner: handleAt(pen), key: hit.at(board.model, pen.p, Math.max(board.radius(pen.touch), 0.2)) };
    },
    move(pen) {
      if (!pressed) return;
      if (!doing && distance(pen.screen, pressed.pen.screen) < (pen.touch ? 6 : threshold)) return;
      if (!doing) start(pen);
      drag(pen);
    },
    up(pen) {
      if (!pressed) return;
      if (doing === '') click(pen);
      if (doing === 'box') {
        const found = hit.within(board.model, pressed.pen.p, pen.p, pen.p[0] < pressed.pen.p[0]);
        if (pen.shift) board.selection.toggle(found);
        else board.selection.set(found);
      }
      const sent = doing === 'move' || doing === 'corner';
      if (doing === 'move' && (by[0] !== 0 || by[1] !== 0)) moved(pen.alt);
      if (doing === 'corner' && pressed.corner) send({ do: 'outline', room: pressed.corner.key.slice('room/'.length), outline: ring });
      doing = '';
      pressed = null;
      board.noGuides();
      if (!sent) board.preview.set('gesture', []); // else the ghost stays until the server has answered
    },
    cancel() {
      const some = doing !== '' || pressed !== null;
      drop();
      return some;
    },
    renewed() {
      if (!doing) board.preview.set('gesture', []);
    },
  };
}

/** @param {Point} a @param {Point} b @returns {Point} */
const middle = (a, b) => [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
