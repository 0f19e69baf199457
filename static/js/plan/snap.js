// @ts-check
// Where a point of the pointer jumps to: corners, middles, edges, alignment with
// a point drawn before, the grid. Imports no DOM.
import { distance, nearest } from './shapes.js';

/** @typedef {import('./model.js').Model} Model @typedef {import('./model.js').Point} Point */
/** @typedef {{at: Point, kind: '' | 'corner' | 'middle' | 'edge' | 'in line' | 'grid', guides: [Point, Point][]}} Snapped */

/** All edges that can be snapped to. @param {Model} model @param {string} [without] key of a room that is being changed @returns {[Point, Point][]} */
export function edges(model, without) {
  /** @type {[Point, Point][]} */
  const out = [];
  for (const room of model.rooms) {
    if (room.key === without) continue;
    for (const ring of room.outline) ring.forEach((p, i) => out.push([p, ring[(i + 1) % ring.length]]));
  }
  for (const light of model.rooflights) {
    if (light.key !== without) light.ring.forEach((p, i) => out.push([p, light.ring[(i + 1) % light.ring.length]]));
  }
  for (const wall of model.walls) out.push([wall.a, wall.b]);
  return out;
}

/** @param {[Point, Point][]} all @param {Point[]} drawn points of the gesture @param {Point} p
 * @param {{radius: number, grid: number}} reach in meters; a grid of 0 is none @returns {Snapped} */
export function snap(all, drawn, p, reach) {
  const near = all.filter(([a, b]) => distance(nearest(a, b, p), p) <= reach.radius);
  const corners = [...near.flat(), ...drawn];
  const corner = closest(corners, p, reach.radius);
  if (corner) return { at: corner, kind: 'corner', guides: [] };
  const middle = closest(near.map(([a, b]) => /** @type {Point} */ ([(a[0] + b[0]) / 2, (a[1] + b[1]) / 2])), p, reach.radius);
  if (middle) return { at: middle, kind: 'middle', guides: [] };
  const edge = closest(near.map(([a, b]) => nearest(a, b, p)), p, reach.radius);
  if (edge) return { at: edge, kind: 'edge', guides: [] };
  return inLine(drawn, onGrid(p, reach.grid), p, reach);
}

/** In line with a point drawn before, across or up. @param {Point[]} drawn @param {Point} fallback @param {Point} p @param {{radius: number, grid: number}} reach @returns {Snapped} */
function inLine(drawn, fallback, p, reach) {
  /** @type {Point} */
  const at = [...fallback];
  /** @type {[Point, Point][]} */
  const guides = [];
  const across = drawn.find((d) => Math.abs(d[1] - p[1]) <= reach.radius);
  const up = drawn.find((d) => Math.abs(d[0] - p[0]) <= reach.radius);
  if (up) at[0] = up[0];
  if (across) at[1] = across[1];
  if (up) guides.push([up, at]);
  if (across) guides.push([across, at]);
  return { at, kind: guides.length > 0 ? 'in line' : reach.grid > 0 ? 'grid' : '', guides };
}

/** @param {Point[]} points @param {Point} p @param {number} radius @returns {Point | null} */
function closest(points, p, radius) {
  let best = null;
  let least = radius;
  for (const one of points) {
    const d = distance(one, p);
    if (d <= least) [best, least] = [one, d];
  }
  return best;
}

/** @param {Point} p @param {number} step @returns {Point} */
export const onGrid = (p, step) => (step > 0 ? [Math.round(p[0] / step) * step, Math.round(p[1] / step) * step] : p);
