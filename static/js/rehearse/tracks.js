// @ts-check
// What the server answers of a rehearsal, and how it is read at a moment.
// Times are seconds since the start, levels percent.

/** One thing that happens, as a scenario stores it.
 * @typedef {{at_s?: number, happen: string, device?: string, button?: number, level?: number, lx?: number, text?: string}} Step */
/** The output of a load: between two points it goes straight, two points at one time are a jump.
 * @typedef {{load: string, points: [number, number][], words: [number, string][]}} Track */
/** One line of what happened or is going to happen.
 * @typedef {{at: number, what: string, why: string, own: boolean, levels: [string, number][]}} Entry */
/** @typedef {{until: number, wall: [number, number][], tracks: Track[], log: Entry[], states: [number, string][], why: [number, string[]][], faults: string[]}} Answer */

/** The last of a list, sorted by time, that is not after t; -1 for none.
 * @param {readonly (readonly [number, ...unknown[]])[]} list @param {number} t */
export function lastAt(list, t) {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (list[middle][0] <= t + 1e-9) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}

/** @template T @param {[number, T][]} list @param {number} t @param {T} otherwise @returns {T} */
export function valueAt(list, t, otherwise) {
  const i = lastAt(list, t);
  return i < 0 ? otherwise : list[i][1];
}

/** @param {[number, number][]} points @param {number} t */
export function levelAt(points, t) {
  const i = lastAt(points, t);
  if (i < 0) return points.length > 0 ? points[0][1] : 0;
  const [from, level] = points[i];
  const next = points[i + 1];
  if (!next || next[0] <= from) return level;
  return level + ((next[1] - level) * Math.min(1, (t - from) / (next[0] - from)));
}

/** The points of a stretch of time, with its ends. @param {[number, number][]} points @param {number} from @param {number} to @returns {[number, number][]} */
export function cut(points, from, to) {
  if (points.length === 0 || to <= from) return [];
  /** @type {[number, number][]} */
  const out = [[from, levelAt(points, from)]];
  for (const [t, level] of points) if (t > from && t < to) out.push([t, level]);
  out.push([to, levelAt(points, to - 1e-6)]);
  return out;
}

/** How a level is said: "80 %", with a tenth where there is one. @param {number} level */
export const percent = (level) => `${Number(level.toFixed(level < 10 ? 1 : 0))} %`;
