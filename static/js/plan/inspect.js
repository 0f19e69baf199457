// @ts-check
// The panel beside the plan: what is selected, in words, with the way to its room.
import { actions } from './actions.js';
import * as Corners from './corners.js';
import { fields, typed } from './fields.js';
import * as Model from './model.js';
import { show } from './lengths.js';

/** @typedef {import('./board.js').Board} Board */

/** @param {Board} board @param {import('./actions.js').Plan} plan */
export function inspect(board, plan) {
  const panel = document.getElementById('inspector');
  if (!panel) return;
  const keys = [...board.selection.keys];
  const kept = typed(document.activeElement);
  const focus = panel.contains(document.activeElement) ? document.activeElement?.id : '';
  if (keys.length === 0) panel.replaceChildren(paragraph('Nothing is selected.', 'soft'));
  else if (keys.length > 1) panel.replaceChildren(paragraph(`${keys.length} things`, ''), facts(counted(board, keys)));
  else panel.replaceChildren(...one(board, keys[0]), ...fields(board, keys[0]), ...found(board, keys[0]), ...Corners.table(board));
  panel.append(...buttons(board, plan));
  kept();
  if (focus) document.getElementById(focus)?.focus({ preventScroll: true });
  board.say(Corners.said(board) || said(board, keys));
}

/** What can be done with several things at once, or with a room. @param {Board} board @param {import('./actions.js').Plan} plan */
function buttons(board, plan) {
  const row = document.createElement('div');
  row.className = 'actions';
  const list = actions(board, plan).filter((action) => action.group === 'room' || action.group === 'align');
  row.append(...list.map((action, i) => Corners.button(action.name, action.keys ? `${action.name} (${action.keys})` : action.name, `action-${i}`, action.run)));
  return list.length > 0 ? [row] : [];
}

/** @param {Board} board @param {string[]} keys */
function said(board, keys) {
  if (keys.length > 1) return `${keys.length} things selected`;
  if (keys.length === 0) return '';
  const wall = Model.wall(board.model, keys[0]);
  if (wall) return `${wall.what}, ${wall.facts.map(([, value]) => value).join(', ')}`;
  const thing = Model.thing(board.model, keys[0]);
  if (thing?.key.startsWith('rooflight/')) return [thing.name, ...(thing.facts ?? []).map(([, value]) => value)].join(', ');
  if (thing) return `${thing.name}, ${thing.what}, ${roomOf(board, thing.room)?.name ?? ''}`;
  return Model.room(board.model, keys[0])?.name ?? '';
}

/** @param {Board} board @param {string} id */
const roomOf = (board, id) => board.model.rooms.find((room) => room.id === id);

/** @param {Board} board @param {string} key */
function one(board, key) {
  const units = board.model.units;
  const wall = Model.wall(board.model, key);
  if (wall) return [paragraph(wall.what, 'strong'), facts(wall.facts)];
  const thing = Model.thing(board.model, key);
  const room = thing ? roomOf(board, thing.room) : Model.room(board.model, key);
  if (thing?.key.startsWith('rooflight/')) return [paragraph(thing.name, 'strong'), facts(thing.facts ?? [])];
  if (!thing) return room ? [paragraph(room.name, 'strong'), facts(room.facts), link(room), link({ path: `${room.path}/rehearse` }, 'Rehearse')] : [];
  /** @type {[string, string][]} */
  const list = [['What', thing.what], ['Room', room?.name ?? ''], ['x', show(thing.at[0], units)], ['y', show(thing.at[1], units)]];
  if (thing.turns) list.push(['Turned', `${thing.turn}\u00b0`]);
  return [paragraph(thing.name, 'strong'), facts([...list, ...(thing.facts ?? [])]), ...(room ? [link(room)] : [])];
}

/** @param {Board} board @param {string[]} keys @returns {[string, string][]} */
function counted(board, keys) {
  /** @type {Map<string, number>} */
  const counts = new Map();
  for (const key of keys) {
    const what = (Model.thing(board.model, key) ?? Model.wall(board.model, key))?.what ?? 'room';
    counts.set(what, (counts.get(what) ?? 0) + 1);
  }
  return [...counts].map(([what, n]) => [what, String(n)]);
}

/** What the rules found of a thing or, of a room, in it. @param {Board} board @param {string} key */
function found(board, key) {
  const room = Model.room(board.model, key);
  return board.model.findings.filter((one) => one.key === key || (room && one.key.split('/')[1] === room.id)).map((one) => {
    const p = paragraph('', 'on-plan');
    const badge = document.createElement('span');
    badge.className = `badge ${one.severity}`;
    badge.textContent = one.severity;
    const thing = one.key === key ? '' : `${Model.thing(board.model, one.key)?.name ?? ''}: `;
    p.append(badge, ` ${thing}${one.text}`);
    return p;
  });
}

/** @param {string} text @param {string} name */
function paragraph(text, name) {
  const p = document.createElement('p');
  p.className = name;
  p.textContent = text;
  return p;
}

/** @param {[string, string][]} list */
function facts(list) {
  const dl = document.createElement('dl');
  dl.className = 'facts';
  for (const [title, value] of list) {
    const dt = document.createElement('dt');
    dt.textContent = title;
    const dd = document.createElement('dd');
    dd.textContent = value;
    dl.append(dt, dd);
  }
  return dl;
}

/** @param {{path: string}} room @param {string} [words] */
function link(room, words = "Open the room's workbench") {
  const a = document.createElement('a');
  a.className = 'button';
  a.href = room.path;
  a.textContent = words;
  return a;
}
