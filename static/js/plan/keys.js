// @ts-check
// The keyboard on the stage. Keys act only while the plan has the focus.
import { duplicate, merge } from './actions.js';
import * as Corners from './corners.js';
import * as Model from './model.js';
import { plus } from './shapes.js';
import { drop, flush, nudge, send } from './send.js';
import { takeBack } from './unsent.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Point} Point */

/** @type {Record<string, string>} */
export const tools = { v: 'select', h: 'hand', r: 'rectangle', p: 'outline', m: 'measure', c: 'seat', w: 'wall', b: 'partition', d: 'door', o: 'window', t: 'rooflight', i: 'inside', x: 'split' };

/** @type {Record<string, Point>} */
const arrows = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** @param {HTMLElement} stage @param {Board} board
 * @param {{tool: () => import('./board.js').Tool, choose: (name: string) => void, moved: () => void, press: (id: string) => void, grid: (room: string) => void, overlay: (what: string) => void}} plan */
export function listen(stage, board, plan) {
  /** @type {string[] | null} what stays selected while N goes on */
  let kept = null;

  stage.addEventListener('keydown', (event) => {
    if (event.target !== stage) return;
    if (!act(event)) return;
    event.preventDefault();
    event.stopPropagation();
  });
  stage.addEventListener('keyup', (event) => {
    if (event.key === ' ') stage.removeAttribute('data-space');
  });
  stage.addEventListener('blur', () => {
    stage.removeAttribute('data-space');
    flush();
  });

  /** @param {KeyboardEvent} event @returns {boolean} whether the key meant something */
  function act(event) {
    if (plan.tool().key?.(event)) return true;
    if (event.key === 'Escape') return escape();
    if (arrows[event.key]) return arrow(event);
    if ((event.key === '[' || event.key === ']') && !event.altKey) return turnOrWalk(event);
    if (event.ctrlKey || event.metaKey) return command(event.key.toLowerCase());
    if (event.key === ' ' && plan.tool().name === 'select') {
      stage.setAttribute('data-space', '');
      return true;
    }
    if (event.key === 'Enter') return enter(event);
    if (event.key === 'Delete' || event.key === 'Backspace') return Corners.remove(board) || takeOff();
    if (event.key === 'Insert') return Corners.add(board);
    return letter(event);
  }

  function escape() {
    if (plan.tool().cancel?.()) return true;
    if (kept) board.say('N goes from thing to thing again');
    kept = null;
    if (drop()) board.preview.set('gesture', []);
    else if (board.corner && plan.tool().name === 'select') {
      board.corner = null;
      board.selection.changed();
    } else if (plan.tool().name !== 'select') plan.choose('select');
    else board.selection.clear();
    return true;
  }

  /** @param {KeyboardEvent} event */
  function arrow(event) {
    const [x, y] = arrows[event.key];
    const step = (event.altKey ? 0.001 : board.step()) * (event.shiftKey ? 10 : 1);
    /** @type {Point} */
    const by = [x * step, y * step];
    if (plan.tool().name !== 'select' && plan.tool().name !== 'hand') {
      board.pen = plus(board.pen, by);
      plan.tool().move?.(pen(event));
      plan.moved();
      return true;
    }
    if (Corners.nudge(board, by)) return true;
    const things = [...board.selection.keys];
    if (things.length === 0) {
      board.view.pan(-x * 60, y * 60);
      plan.moved();
      return true;
    }
    const all = nudge(things, by);
    board.preview.set('gesture', things.flatMap((key) => {
      const at = Model.place(board.model, key);
      return at ? [/** @type {const} */ ({ kind: 'ring', at: plus(at, all), name: 'ghost' })] : [];
    }));
    board.say(`${board.length(all[0])} right, ${board.length(all[1])} up`);
    return true;
  }

  /** The keyboard's pen: never far from where it was put. @param {KeyboardEvent} event @returns {import('./board.js').Pen} */
  const pen = (event) => ({ p: board.pen, screen: board.view.toScreen(board.pen), shift: false, alt: event.altKey, free: event.altKey, touch: false, pressed: false, keyed: true });

  /** @param {KeyboardEvent} event */
  function enter(event) {
    if (plan.tool().name === 'select') {
      const [key] = board.selection.keys;
      const room = board.model.rooms.find((one) => one.key === key || one.id === key?.split('/')[1]);
      if (room) location.assign(room.path);
      return room !== undefined;
    }
    plan.tool().down?.(pen(event));
    return true;
  }

  function takeOff() {
    const things = [...board.selection.keys];
    if (things.length === 0) return false;
    send({ do: 'take off', things });
    return true;
  }

  /** @param {string} key */
  function command(key) {
    if (key === 'a') board.selection.set(board.model.things.map((one) => one.key));
    else if (key === 'd') duplicate(board);
    else if (key === '0') plan.press('plan-fit');
    else {
      if (key === 'z' || key === 'y') flush(); // the steps of the arrows come first; the page undoes
      if (key === 'z' && takeBack()) {
        board.say('Took back an edit that was not sent yet');
        return true;
      }
      return false;
    }
    return true;
  }

  /** @param {KeyboardEvent} event */
  function letter(event) {
    const key = event.key.toLowerCase();
    if (event.altKey) return false;
    if (event.key === '?') /** @type {HTMLDialogElement} */ (document.getElementById('plan-keys')).showModal();
    else if (tools[key]) plan.choose(tools[key]);
    else if (key === 'g') plan.press('plan-grid');
    else if (key === 'j') merge(board);
    else if (key === 'k') keep();
    else if (key === 'n') next(event.shiftKey ? -1 : 1);
    else if (key === 's') plan.press('plan-snap');
    else if (key === 'l') plan.overlay('margin');
    else if (key === 'e') plan.overlay('sight');
    else if (key === '+' || key === '=') plan.press('plan-in');
    else if (key === '-') plan.press('plan-out');
    else if (event.code === 'Digit1' && event.shiftKey) plan.press('plan-fit');
    else return false;
    return true;
  }

  function keep() {
    kept = kept ? null : [...board.selection.keys];
    board.say(kept ? `${kept.length} selected; N adds the next thing to them` : 'N goes from thing to thing again');
  }

  /** @param {KeyboardEvent} event */
  function turnOrWalk(event) {
    if (plan.tool().name !== 'select') return false;
    const forward = event.key === ']';
    if (!Corners.walk(board, forward ? 1 : -1)) turn(forward ? -1 : 1, event);
    return true;
  }

  /** @param {number} way @param {KeyboardEvent} event */
  function turn(way, event) {
    const things = [...board.selection.keys].filter((key) => Model.thing(board.model, key)?.turns);
    if (things.length > 0) send({ do: 'turn', things, turn: way * (event.ctrlKey ? 1 : 15) });
    else board.say('Nothing selected has a direction');
  }

  /** From thing to thing in reading order. @param {number} step */
  function next(step) {
    const all = Model.inOrder(board.model);
    if (all.length === 0) return;
    const key = [...board.selection.keys].pop();
    const at = all.indexOf(key ?? '');
    const to = all[at < 0 ? (step > 0 ? 0 : all.length - 1) : (at + step + all.length) % all.length];
    if (kept) kept = [...kept.filter((one) => one !== to), to];
    board.selection.set(kept ?? [to]);
    bringIntoView(to);
  }

  /** @param {string} key */
  function bringIntoView(key) {
    const at = Model.place(board.model, key);
    if (!at) return;
    const [x, y] = board.view.toScreen(at);
    if (x > 20 && y > 20 && x < board.view.width - 20 && y < board.view.height - 20) return;
    board.view.center = at;
    plan.moved();
  }
}
