// @ts-check
// Levels as step charts: one strip a load on one axis of time. What has been is
// drawn full, what comes by itself if nobody does anything is dashed.
import { clockText, dateAt } from './clock.js';
import { drawn } from './model.js';
import { cut } from './tracks.js';

/** @typedef {import('./tracks.js').Answer} Answer */

const height = 40; // CSS pixels of a strip
const margin = 3;
const steps = [1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400]; // seconds between marks of the axis
const apart = (/** @type {number} */ step) => (step < 60 ? 66 : 46); // least CSS pixels between two marks: with seconds, without

/** The stretch of time that the charts show. @param {number} now @param {number} width seconds; 0: all so far @returns {[number, number]} */
export function stretch(now, width) {
  if (width === 0) return [0, Math.max(30, now * 1.2)];
  const from = Math.max(0, now - width * 0.7);
  return [from, from + width];
}

/** @param {[number, number][]} points @param {(t: number) => number} x */
function line(points, x) {
  const y = (/** @type {number} */ level) => (margin + (1 - level / 100) * (height - 2 * margin)).toFixed(1);
  return points.map(([t, level], i) => `${i ? 'L' : 'M'}${x(t).toFixed(1)} ${y(level)}`).join('');
}

/** @param {SVGElement} chart @param {[number, number][]} points @param {number} now @param {[number, number]} shown @param {number} width */
export function strip(chart, points, now, [from, to], width) {
  const x = (/** @type {number} */ t) => ((t - from) / (to - from)) * width;
  const past = line(cut(points, from, Math.min(now, to)), x);
  const coming = line(cut(points, Math.max(now, from), to), x);
  const floor = height - margin;
  chart.setAttribute('viewBox', `0 0 ${width} ${height}`);
  chart.replaceChildren(
    drawn('path', { class: 'chart-ground', d: `M0 ${floor}H${width}M0 ${margin}H${width}` }),
    drawn('path', { class: 'chart-area', d: past ? `${past}L${x(Math.min(now, to)).toFixed(1)} ${floor}L${x(from).toFixed(1)} ${floor}Z` : '' }),
    drawn('path', { class: 'chart-coming', d: coming }),
    drawn('path', { class: 'chart-line', d: past }),
    drawn('path', { class: 'chart-now', d: `M${x(now).toFixed(1)} 0V${height}` }),
  );
}

/** The axis below the strips. @param {SVGElement} axis @param {Answer} answer @param {number} now @param {[number, number]} shown @param {number} width */
export function scale(axis, answer, now, [from, to], width) {
  const step = steps.find((s) => (s / (to - from)) * width >= apart(s)) ?? 86400;
  const start = dateAt(answer.wall, 0);
  const offset = (start.getUTCSeconds() + 60 * start.getUTCMinutes() + 3600 * start.getUTCHours()) % step;
  const marks = [];
  for (let t = Math.ceil((from + offset) / step) * step - offset; t <= to; t += step) {
    const share = (t - from) / (to - from);
    const at = `${(share * 100).toFixed(2)}%`; // in shares, so that paper of another width has it right
    const text = clockText(dateAt(answer.wall, t));
    const anchor = share * width < 26 ? 'start' : (1 - share) * width < 26 ? 'end' : 'middle';
    marks.push(drawn('line', { class: 'chart-ground', x1: at, x2: at, y1: 0, y2: 4 }),
      drawn('text', { x: at, y: 15, 'text-anchor': anchor }, step < 60 ? text : text.slice(0, 5)));
  }
  axis.replaceChildren(...marks);
}
