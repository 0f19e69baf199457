// @ts-check
// What lies under a point or in a rectangle. Imports no DOM.
import { distance, inside, nearest } from './shapes.js';

/** @typedef {import('./model.js').Model} Model @typedef {import('./model.js').Point} Point */

/** Devices lie above luminaires, those above seats. @param {string} key */
const height = (key) => (key.startsWith('device') ? 2 : key.startsWith('fixture') ? 1 : 0);

/** The thing nearest to a point within a radius in meters. @param {Model} model @param {Point} p @param {number} radius */
export function thingAt(model, p, radius) {
  let best = null;
  let least = Infinity;
  for (const one of model.things) {
    const dx = one.at[0] - p[0];
    const dy = one.at[1] - p[1];
    if (Math.abs(dx) > radius || Math.abs(dy) > radius) continue;
    const far = Math.hypot(dx, dy) / radius - height(one.key) / 4;
    if (Math.hypot(dx, dy) <= radius && far < least) [best, least] = [one, far];
  }
  return best;
}

/** The room around a point, holes left out; the smallest where several overlap. @param {Model} model @param {Point} p */
export function roomAt(model, p) {
  const found = model.rooms.filter((room) => room.outline.length > 0 && inside(room.outline[0], p) && !room.outline.slice(1).some((hole) => inside(hole, p)));
  return found[found.length - 1] ?? null;
}

/** The wall nearest to a point within a radius; an opening before its wall. @param {Model} model @param {Point} p @param {number} radius */
export function wallAt(model, p, radius) {
  let best = null;
  let least = Infinity;
  for (const one of model.walls) {
    const far = distance(nearest(one.a, one.b, p), p) - (one.key.startsWith('opening') ? radius / 2 : 0);
    if (far <= radius && far < least) [best, least] = [one, far];
  }
  return best;
}

/** The rooflight around a point, the newest where several overlap. @param {Model} model @param {Point} p */
export const rooflightAt = (model, p) => model.rooflights.filter((one) => inside(one.ring, p)).at(-1) ?? null;

/** What is under a point, topmost first. @param {Model} model @param {Point} p @param {number} radius @returns {string | null} */
export const at = (model, p, radius) => (thingAt(model, p, radius) ?? wallAt(model, p, radius / 2) ?? rooflightAt(model, p) ?? roomAt(model, p))?.key ?? null;

/** All that is under a point, topmost first. @param {Model} model @param {Point} p @param {number} radius @returns {string[]} */
export function all(model, p, radius) {
  const things = model.things.filter((one) => distance(one.at, p) <= radius).sort((a, b) => height(b.key) - height(a.key) || distance(a.at, p) - distance(b.at, p));
  const walls = model.walls.filter((one) => distance(nearest(one.a, one.b, p), p) <= radius / 2);
  const openings = walls.filter((one) => one.key.startsWith('opening'));
  const rooms = model.rooms.filter((room) => room.outline.length > 0 && inside(room.outline[0], p) && !room.outline.slice(1).some((hole) => inside(hole, p))).reverse();
  const lights = model.rooflights.filter((one) => inside(one.ring, p)).reverse();
  return [...things, ...openings, ...walls.filter((one) => !openings.includes(one)), ...lights, ...rooms].map((one) => one.key);
}

/** Things and rooms in a rectangle: those wholly in it or, touching, rooms that reach in too.
 * @param {Model} model @param {Point} a @param {Point} b @param {boolean} touching @returns {string[]} */
export function within(model, a, b, touching) {
  const [left, right] = [Math.min(a[0], b[0]), Math.max(a[0], b[0])];
  const [bottom, top] = [Math.min(a[1], b[1]), Math.max(a[1], b[1])];
  /** @param {Point} p */
  const holds = (p) => p[0] >= left && p[0] <= right && p[1] >= bottom && p[1] <= top;
  const things = [...model.things.filter((one) => holds(one.at)), ...model.rooflights.filter((one) => one.ring.every(holds) || (touching && one.ring.some(holds)))].map((one) => one.key);
  if (things.length > 0) return things; // rooms only where the rectangle holds nothing smaller
  return model.rooms.filter((room) => room.outline.length > 0 && (room.outline[0].every(holds) || (touching && room.outline[0].some(holds)))).map((room) => room.key);
}
