// @ts-check
// What the server said of the storey: read only, taken anew after each answer.
// Places are meters, x to the right, y up. Imports no DOM.

/** @typedef {[number, number]} Point */
/** @typedef {{key: string, id: string, name: string, path: string, facts: [string, string][], outline: Point[][], loads: {id: string, tag: string, left: number}[]}} Room */
/** @typedef {{key: string, room: string, name: string, what: string, at: Point, turn: number, turns: boolean, facts: [string, string][] | null}} Thing */
/** @typedef {{key: string, what: string, a: Point, b: Point, facts: [string, string][], values?: string[]}} Wall or an opening in one; values: of its fields */
/** @typedef {Thing & {ring: Point[], values: string[]}} Rooflight */
/** @typedef {{name: string, title: string, hint?: string, empty?: string, choices?: string[]}} Field empty: what holds where it is empty */
/** @typedef {{origin: Point, scale: number, size: Point, box: [number, number, number, number], units: 'US' | 'SI', rooms: Room[], things: Thing[], walls: Wall[], rooflights: Rooflight[], fields: Record<string, Field[]>, findings: Finding[], beneath: {address: string, at: Point, size: Point, turn: number} | null}} Model box: of what is drawn */
/** @typedef {{id: string, key: string, severity: string, text: string, at: Point}} Finding */

/** @type {Model} */
export const nothing = { origin: [0, 0], scale: 10, size: [200, 150], box: [0, 0, 20, 15], units: 'SI', rooms: [], things: [], walls: [], rooflights: [], fields: {}, findings: [], beneath: null };

/** @param {string | null} text @returns {Model} */
export function read(text) {
  return text ? { ...nothing, ...JSON.parse(text) } : nothing;
}

/** What news of the server make of a model; the old one stays as it is.
 * @param {Model} model @param {Record<string, import('./news.js').Changes>} sections @returns {Model} */
export function patched(model, sections) {
  const { frame } = sections;
  return {
    ...model,
    ...(frame ? frame.all : {}),
    rooms: list(model.rooms, sections['json:rooms'], (one) => one.key),
    things: list(model.things, sections['json:things'], (one) => one.key),
    walls: list(model.walls, sections['json:walls'], (one) => one.key),
    rooflights: list(model.rooflights, sections['json:rooflights'], (one) => one.key),
    findings: list(model.findings, sections['json:findings'], (one) => one.id),
  };
}

/** @template T @param {T[]} before @param {import('./news.js').Changes | undefined} changes @param {(one: T) => string} keyOf @returns {T[]} */
function list(before, changes, keyOf) {
  if (!changes) return before;
  if (changes.all) return changes.all;
  const gone = new Set(changes.gone ?? []);
  const out = before.filter((one) => !gone.has(keyOf(one)));
  for (const { k, a, v } of changes.put ?? []) {
    const at = out.findIndex((one) => keyOf(one) === k);
    if (a === undefined && at >= 0) out[at] = v;
    else {
      if (at >= 0) out.splice(at, 1);
      out.splice(a ? out.findIndex((one) => keyOf(one) === a) + 1 : 0, 0, v);
    }
  }
  return out;
}

/** A rooflight is a thing of no room. @param {Model} model @param {string} key @returns {Thing | undefined} */
export const thing = (model, key) => model.things.find((one) => one.key === key) ?? rooflight(model, key);

/** @param {Model} model @param {string} key @returns {Rooflight | undefined} */
export const rooflight = (model, key) => model.rooflights.find((one) => one.key === key);

/** @param {Model} model @param {string} key @returns {Room | undefined} */
export const room = (model, key) => model.rooms.find((one) => one.key === key);

/** @param {Model} model @param {string} key @returns {Wall | undefined} */
export const wall = (model, key) => model.walls.find((one) => one.key === key);

/** Where a key is: a thing's place, the middle of a wall, of a room's box. @param {Model} model @param {string} key @returns {Point | null} */
export function place(model, key) {
  const found = thing(model, key);
  if (found) return found.at;
  const line = wall(model, key);
  if (line) return [(line.a[0] + line.b[0]) / 2, (line.a[1] + line.b[1]) / 2];
  const outer = room(model, key)?.outline[0];
  if (!outer) return null;
  const box = bounds(outer);
  return [(box[0] + box[2]) / 2, (box[1] + box[3]) / 2];
}

/** @param {Point[]} points @returns {[number, number, number, number]} left, bottom, right, top */
export function bounds(points) {
  const xs = points.map((p) => p[0]);
  const ys = points.map((p) => p[1]);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

/** Keys in reading order: room by room, from the top left. @param {Model} model @returns {string[]} */
export function inOrder(model) {
  /** @type {string[]} */
  const out = [];
  /** @type {Map<string, Thing[]>} */
  const byRoom = new Map();
  for (const one of model.things) byRoom.set(one.room, [...(byRoom.get(one.room) ?? []), one]);
  for (const one of model.rooms) {
    if (one.outline.length > 0) out.push(one.key);
    for (const held of byRoom.get(one.id) ?? []) out.push(held.key);
  }
  return [...out, ...[...model.rooflights, ...model.walls].map((one) => one.key)];
}
