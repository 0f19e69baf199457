// @ts-check
// The drawing board: wires what the server drew to pointer, keys and tools.
import { Board, words } from './board.js';
import * as Below from './below.js';
import * as Clipboard from './clipboard.js';
import { chosen } from './corners.js';
import * as DragIn from './dragin.js';
import { openGrid } from './gridform.js';
import { inspect } from './inspect.js';
import * as keys from './keys.js';
import { barLength, trim } from './lengths.js';
import * as menu from './menu.js';
import * as Model from './model.js';
import * as News from './news.js';
import { Overlay } from './overlay.js';
import * as pointer from './pointer.js';
import { make, Preview } from './preview.js';
import { Selection } from './selection.js';
import { send } from './send.js';
import { area, perimeter } from './shapes.js';
import { pixelsPerMillimeter, Sheet } from './sheet.js';
import { View } from './view.js';
import { insideTool } from './tools/inside.js';
import { measureTool } from './tools/measure.js';
import { outlineTool } from './tools/outline.js';
import { placeTool, rowsTool } from './tools/place.js';
import { rectangleTool } from './tools/rectangle.js';
import { seatTool } from './tools/seat.js';
import { rooflightTool } from './tools/rooflight.js';
import { openingTool, wallTool } from './tools/wall.js';
import { splitTool } from './tools/split.js';
import { selectTool } from './tools/select.js';

/** @typedef {import('./model.js').Point} Point @typedef {import('./board.js').Tool} Tool */

const stage = /** @type {HTMLElement} */ (document.getElementById('stage'));
const view = new View();
const selection = new Selection();
const upper = /** @type {SVGElement} */ (/** @type {unknown} */ (document.getElementById('upper')));
const board = new Board(Model.read(document.getElementById('plan-model')?.textContent ?? null), view, selection, new Preview(upper, view));
const overlay = new Overlay(board, () => moved());
const sheet = new Sheet(() => overlay.fit());

/** @type {Record<string, () => Tool>} */
const makers = {
  select: () => selectTool(board),
  hand: () => ({ name: 'hand', cursor: 'grab' }),
  rectangle: () => rectangleTool(board, drawn),
  split: () => splitTool(board, (room, a, b) => ask([a, b], 'The smaller part becomes a new room; devices and luminaires stay with the room that they belong to', { do: 'split', room, at: [a, b] }, true)),
  inside: () => insideTool(board, (at) => ask([], 'The shape that the walls around this place enclose, by their center lines', { do: 'inside', at: [at] })),
  outline: () => outlineTool(board, drawn),
  wall: () => wallTool(board, 'wall'),
  partition: () => wallTool(board, 'partition'),
  door: () => openingTool(board, 'door'),
  window: () => openingTool(board, 'window'),
  rooflight: () => rooflightTool(board),
  seat: () => seatTool(board),
  measure: () => measureTool(board),
};
let tool = makers.select();

/** @param {Tool} next */
function take(next) {
  tool.leave?.();
  board.type('');
  tool = next;
  stage.dataset.tool = tool.name;
  showTool();
  tool.enter?.();
}

/** @param {string} name */
const choose = (name) => take(makers[name]());
const letGo = () => choose('select');

function showTool() {
  for (const button of document.querySelectorAll('button[data-tool]')) button.setAttribute('aria-pressed', String(button.getAttribute('data-tool') === tool.name));
  document.getElementById('plan-snap')?.setAttribute('aria-pressed', String(board.snapping));
}

// ---- the view ----

let asked = false;
function moved() {
  if (asked) return;
  asked = true;
  requestAnimationFrame(() => {
    asked = false;
    showView();
  });
}

function showView() {
  sheet.place(board.model, view);
  board.preview.draw();
  words('plan-zoom', `${trim((view.scale / board.model.scale / pixelsPerMillimeter) * 100, 0)} %`);
  words('plan-cursor', `${board.length(board.pen[0])}, ${board.length(board.pen[1])}`);
  const length = barLength(view.scale, 110, board.model.units);
  const wide = length * view.scale;
  const bar = document.getElementById('scale-bar');
  const text = make('text', { x: wide + 8, y: 14 });
  text.textContent = board.length(length);
  bar?.replaceChildren(make('path', { d: `M2 6v8h${wide}v-8`, class: 'u-bar' }), text);
}

new ResizeObserver(() => {
  const first = view.width === 1;
  view.width = Math.max(stage.clientWidth, 2);
  view.height = Math.max(stage.clientHeight, 2);
  if (first) view.fitAll(board.model);
  moved();
}).observe(stage);

/** @param {string} id @param {() => void} act */
function on(id, act) {
  document.addEventListener('click', (event) => {
    if (/** @type {Element} */ (event.target).closest(`#${id}`)) act();
  });
}
on('plan-in', () => { view.zoom([view.width / 2, view.height / 2], 1.25); moved(); });
on('plan-out', () => { view.zoom([view.width / 2, view.height / 2], 0.8); moved(); });
on('plan-fit', () => { view.fitAll(board.model); moved(); });
on('plan-grid', () => grid([...selection.keys][0]?.split('/')[1] ?? ''));
on('plan-snap', () => { board.snapping = !board.snapping; showTool(); board.say(board.snapping ? 'Snapping is on' : 'Snapping is off'); });

// ---- layers: of this page, not of the project ----

/** @type {Set<string>} */
const hidden = new Set();
document.addEventListener('change', (event) => {
  const box = event.target;
  if (!(box instanceof HTMLInputElement) || !box.dataset.layer) return;
  if (box.checked) hidden.delete(box.dataset.layer);
  else hidden.add(box.dataset.layer);
  showLayers(document);
});

/** @param {ParentNode} within */
function showLayers(within) {
  for (const layer of within.querySelectorAll('#lower [data-layer]')) layer.toggleAttribute('hidden', hidden.has(layer.getAttribute('data-layer') ?? ''));
}

// ---- tools and what they do ----

document.addEventListener('click', (event) => {
  const button = /** @type {Element} */ (event.target).closest('button[data-tool], button[data-place], button[data-place-load]');
  if (!(button instanceof HTMLElement)) return;
  const { tool: name, place, placeLoad, room, left } = button.dataset;
  if (name) choose(name);
  if (place) take(placeTool(board, letGo, place, button.dataset.name ?? ''));
  if (placeLoad) take(rowsTool(board, letGo, { room: room ?? '', load: placeLoad, left: Number(left), name: button.dataset.name ?? '' }));
  stage.focus({ preventScroll: true });
});

/** A ring was drawn: which room is it? @param {Point[]} ring */
function drawn(ring) {
  ask(ring, `${board.area(Math.abs(area(ring)))}, ${board.length(perimeter(ring))} around`, { outline: ring });
}

/** @param {Point[]} ring shown meanwhile @param {string} said @param {Record<string, unknown>} gesture @param {boolean} [fresh] only a new room will do */
function ask(ring, said, gesture, fresh = false) {
  const dialog = /** @type {HTMLDialogElement} */ (document.getElementById('outline-dialog'));
  const choice = /** @type {HTMLSelectElement} */ (document.getElementById('outline-room'));
  const waiting = fresh ? [] : board.model.rooms.filter((room) => room.outline.length === 0);
  choice.replaceChildren(...waiting.map((room) => new Option(room.name, room.id)), new Option('a new room', ''));
  words('outline-said', said);
  /** @type {HTMLFormElement} */ (document.getElementById('outline-form')).reset();
  board.preview.set('gesture', ring.length > 0 ? [{ kind: 'line', points: ring, closed: true, name: 'outline' }] : []);
  dialog.returnValue = '';
  dialog.onclose = () => {
    if (dialog.returnValue !== 'draw') board.preview.set('gesture', []);
    else if (choice.value) send({ do: 'outline', ...gesture, room: choice.value });
    else send({ do: 'draw room', ...gesture, number: value('outline-number'), name: value('outline-name') });
    letGo();
    stage.focus({ preventScroll: true });
  };
  dialog.showModal();
}

document.addEventListener('click', (event) => {
  const button = /** @type {Element} */ (event.target).closest('button[data-look]');
  if (!(button instanceof HTMLElement)) return;
  const [x, y] = (button.dataset.look ?? '').split(' ').map(Number);
  view.lookAt([x, y]);
  moved();
  const { key } = button.dataset;
  if (key && Model.place(board.model, key)) selection.set([key]);
});

// What the program knows against a finding.
document.addEventListener('click', (event) => {
  const button = /** @type {Element} */ (event.target).closest('button[data-fix-rule]');
  if (button instanceof HTMLElement) send({ do: 'fix', rule: button.dataset.fixRule, key: button.dataset.fixKey });
});

/** @param {string} id */
const value = (id) => /** @type {HTMLInputElement} */ (document.getElementById(id)).value;

/** @param {string} room */
const grid = (room) => openGrid(board, room);
const plan = { tool: () => tool, choose, moved, press: (/** @type {string} */ id) => document.getElementById(id)?.click(), grid, overlay: (/** @type {string} */ what) => overlay.toggle(what) };

selection.changed = () => {
  const corner = chosen(board);
  if (!corner) board.corner = null;
  const handles = selection.keys.size === 1 ? Model.room(board.model, [...selection.keys][0])?.outline[0] ?? [] : [];
  board.preview.set('selection', [...selection.keys].flatMap((key) => mark(key)).concat(handles.map((at, i) => ({ kind: 'handle', at, name: corner?.index === i ? 'handle-on' : 'handle' }))));
  inspect(board, plan);
  overlay.selected();
};

/** @param {string} key @returns {import('./preview.js').Shape[]} */
function mark(key) {
  const light = Model.rooflight(board.model, key);
  if (light) return [{ kind: 'line', points: light.ring, closed: true, name: 'selected' }];
  const one = Model.thing(board.model, key);
  if (one) return [{ kind: 'ring', at: one.at, name: 'selected' }];
  const wall = Model.wall(board.model, key);
  if (wall) return [{ kind: 'line', points: [wall.a, wall.b], name: 'selected-wall' }];
  const outline = Model.room(board.model, key)?.outline ?? [];
  return outline.map((points) => ({ kind: 'line', points, closed: true, name: 'selected' }));
}

// ---- answers of the server ----

News.listen(() => board.model, (model, news) => {
  const before = board.model;
  board.model = model;
  void board.beneath.follow(model);
  sheet.place(model, view);
  showLayers(document);
  moved();
  const added = board.selectNew ? addedTo(before, model) : [];
  board.selectNew = board.selectNew && added.length === 0;
  if (added.length > 0) {
    board.copied.keys = added;
    selection.set(added);
  } else selection.keep((key) => Model.place(board.model, key) !== null);
  overlay.heard(news);
});

/** What is new; a new room stands for what it holds, a wall for its openings. @param {Model.Model} before @param {Model.Model} now */
function addedTo(before, now) {
  const had = new Set([...before.rooms, ...before.things, ...before.walls, ...before.rooflights].map((one) => one.key));
  const rooms = now.rooms.filter((room) => room.outline.length > 0 && !had.has(room.key));
  const fresh = new Set(rooms.map((room) => room.id));
  return [...rooms, ...now.things.filter((one) => !fresh.has(one.room)), ...now.walls.filter((one) => one.key.startsWith('wall/')), ...now.rooflights].map((one) => one.key).filter((key) => !had.has(key));
}
// A swap of the page around takes what the script has set.
document.addEventListener('htmx:after:settle', () => { stage.dataset.tool = tool.name; showTool(); });

// A gesture's ghost goes when the answer is there, stored or refused.
document.addEventListener('htmx:finally:request', (event) => {
  const { request, response } = /** @type {CustomEvent} */ (event).detail.ctx;
  if (request.method === 'GET') return;
  if ((response?.status ?? 0) >= 400) board.selectNew = false;
  tool.renewed?.();
});

const openMenu = menu.listen(stage, board, plan);
pointer.listen(stage, board, () => tool, moved, openMenu);
keys.listen(stage, board, plan);
Clipboard.listen(stage, board);
DragIn.listen(stage, board, () => tool);
Below.listen(board);
showTool();
void board.beneath.follow(board.model);
