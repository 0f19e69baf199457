// @ts-check
// Plane geometry of the drawing board, in meters. Imports no DOM.

/** @typedef {import('./model.js').Point} Point */

/** @param {Point} a @param {Point} b */
export const distance = (a, b) => Math.hypot(a[0] - b[0], a[1] - b[1]);

/** @param {Point} a @param {Point} b @returns {Point} */
export const plus = (a, b) => [a[0] + b[0], a[1] + b[1]];

/** @param {Point} a @param {Point} b @returns {Point} */
export const minus = (a, b) => [a[0] - b[0], a[1] - b[1]];

/** @param {Point[]} ring signed by winding: counterclockwise is positive */
export function area(ring) {
  let twice = 0;
  for (let i = 0; i < ring.length; i++) {
    const a = minus(ring[i], ring[0]);
    const b = minus(ring[(i + 1) % ring.length], ring[0]);
    twice += a[0] * b[1] - a[1] * b[0];
  }
  return twice / 2;
}

/** @param {Point[]} ring */
export function perimeter(ring) {
  return ring.reduce((sum, p, i) => sum + distance(p, ring[(i + 1) % ring.length]), 0);
}

/** By the even-odd rule. @param {Point[]} ring @param {Point} p */
export function inside(ring, p) {
  let odd = false;
  for (let i = 0, j = ring.length - 1; i < ring.length; j = i++) {
    const [ax, ay] = ring[i];
    const [bx, by] = ring[j];
    if (ay > p[1] !== by > p[1] && p[0] < ((bx - ax) * (p[1] - ay)) / (by - ay) + ax) odd = !odd;
  }
  return odd;
}

/** The nearest point of a segment. @param {Point} a @param {Point} b @param {Point} p @returns {Point} */
export function nearest(a, b, p) {
  const [dx, dy] = minus(b, a);
  const length = dx * dx + dy * dy;
  if (length === 0) return a;
  const t = Math.min(1, Math.max(0, ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / length));
  return [a[0] + t * dx, a[1] + t * dy];
}

/** p turned onto the nearest direction of 45 degrees from a. @param {Point} a @param {Point} p @returns {Point} */
export function ortho(a, p) {
  const [dx, dy] = minus(p, a);
  const step = Math.PI / 4;
  const angle = Math.round(Math.atan2(dy, dx) / step) * step;
  const length = dx * Math.cos(angle) + dy * Math.sin(angle);
  return [a[0] + length * Math.cos(angle), a[1] + length * Math.sin(angle)];
}

/** From a towards p, so long. @param {Point} a @param {Point} p @param {number} length @returns {Point} */
export function along(a, p, length) {
  const d = distance(a, p);
  return d === 0 ? plus(a, [length, 0]) : [a[0] + ((p[0] - a[0]) * length) / d, a[1] + ((p[1] - a[1]) * length) / d];
}
