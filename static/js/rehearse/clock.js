// @ts-check
// The clock on the wall of the room, and stretches of time in words.
import { lastAt } from './tracks.js';

const weekdays = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'];

/** @param {number} n */
const two = (n) => String(n).padStart(2, '0');

/** The wall clock at a time: the server says where it jumps (summer time), in
 * milliseconds that read as UTC. @param {[number, number][]} wall @param {number} t */
export function dateAt(wall, t) {
  const i = Math.max(0, lastAt(wall, t));
  const [from, ms] = wall[i] ?? [0, 0];
  return new Date(ms + Math.round((t - from) * 1000));
}

/** @param {Date} d */
export const dayText = (d) => `${weekdays[d.getUTCDay()]} ${d.getUTCFullYear()}-${two(d.getUTCMonth() + 1)}-${two(d.getUTCDate())}`;

/** @param {Date} d */
export const clockText = (d) => `${two(d.getUTCHours())}:${two(d.getUTCMinutes())}:${two(d.getUTCSeconds())}`;

/** How long until something: "19 min 30 s". @param {number} seconds */
export function span(seconds) {
  const s = Math.max(0, Math.round(seconds));
  if (s < 60) return seconds > 0 && seconds < 10 ? `${seconds.toFixed(1)} s` : `${s} s`;
  if (s < 3600) return `${Math.floor(s / 60)} min${s % 60 ? ` ${s % 60} s` : ''}`;
  const minutes = Math.round(s / 60);
  return `${Math.floor(minutes / 60)} h${minutes % 60 ? ` ${minutes % 60} min` : ''}`;
}

/** Seconds from now until the wall clock shows that time next. @param {Date} now @param {string} text "22:00" */
export function untilClock(now, text) {
  const m = /^(\d{1,2}):(\d{2})$/.exec(text.trim());
  if (!m || Number(m[1]) > 23 || Number(m[2]) > 59) return null;
  const here = (now.getUTCHours() * 60 + now.getUTCMinutes()) * 60 + now.getUTCSeconds() + now.getUTCMilliseconds() / 1000;
  const there = (Number(m[1]) * 60 + Number(m[2])) * 60;
  return there > here ? there - here : there + 86400 - here;
}
