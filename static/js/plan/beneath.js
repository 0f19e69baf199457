// @ts-check
// The lines of a drawing that lies beneath the storey: the server keeps them as
// a picture, and points snap to their ends, middles and edges as they do to walls.

/** @typedef {import('./model.js').Point} Point @typedef {[Point, Point]} Piece */

const kind = 'image/svg+xml'; // of lines; other pictures have none to snap to
const cell = 1; // meters: no piece is looked for farther away
const most = 2_000_000; // entries of the index: some tens of megabytes

export class Beneath {
  /** @type {Map<string, Piece[]>} by cell */
  cells = new Map();
  shown = 'null';

  /** Takes up what the storey shows, if it is another picture or lies elsewhere.
   * @param {import('./model.js').Model} model */
  async follow({ beneath }) {
    const said = JSON.stringify(beneath);
    if (said === this.shown) return;
    this.shown = said;
    this.cells = new Map();
    if (!beneath) return;
    const text = await lines(beneath.address);
    if (text && this.shown === said) this.cells = index(pieces(text, placed(beneath)));
  }

  /** Pieces about a place. @param {Point} p @param {number} radius meters @returns {Piece[]} */
  near(p, radius) {
    if (this.cells.size === 0 || radius > cell || document.querySelector('#lower [data-layer="underlay"][hidden]')) return [];
    /** @type {Set<Piece>} */
    const out = new Set();
    for (let x = -1; x <= 1; x++) {
      for (let y = -1; y <= 1; y++) {
        for (const one of this.cells.get(key(p[0] + x * cell, p[1] + y * cell)) ?? []) out.add(one);
      }
    }
    return [...out];
  }
}

/** @param {string} address @returns {Promise<string>} '' for a picture without lines */
async function lines(address) {
  try {
    const head = await fetch(address, { method: 'HEAD' });
    if (!head.ok || head.headers.get('Content-Type') !== kind) return '';
    const answer = await fetch(address);
    return answer.ok ? await answer.text() : '';
  } catch {
    return ''; // the lines are seen all the same
  }
}

/** The way from the picture's own places, in parts of its width and height and down from its upper left corner, to the plan's meters.
 * @param {{at: Point, size: Point, turn: number}} beneath @returns {(x: number, y: number) => Point} */
function placed({ at, size, turn }) {
  const [sin, cos] = [Math.sin((turn * Math.PI) / 180), Math.cos((turn * Math.PI) / 180)];
  return (x, y) => {
    const dx = x * size[0];
    const dy = (1 - y) * size[1];
    return [at[0] + dx * cos - dy * sin, at[1] + dx * sin + dy * cos];
  };
}

/** Reads the paths as the server writes them: M, then steps after l, z where a run is closed.
 * @param {string} text @param {ReturnType<typeof placed>} place @returns {Piece[]} */
export function pieces(text, place) {
  const box = /viewBox="0 0 (\d+) (\d+)"/.exec(text);
  if (!box) return [];
  const [width, height] = [Number(box[1]), Number(box[2])];
  /** @type {Piece[]} */
  const out = [];
  for (const [, from, steps, closed] of text.matchAll(/M(-?\d+ -?\d+)l([-\d ]+)(z?)/g)) {
    let [x, y] = from.split(' ').map(Number);
    const first = place(x / width, y / height);
    let last = first;
    const by = steps.split(' ');
    for (let i = 0; i + 1 < by.length; i += 2) {
      x += Number(by[i]);
      y += Number(by[i + 1]);
      const next = place(x / width, y / height);
      out.push([last, next]);
      last = next;
    }
    if (closed) out.push([last, first]);
  }
  return out;
}

/** @param {Piece[]} list */
export function index(list) {
  /** @type {Map<string, Piece[]>} */
  const cells = new Map();
  let entries = 0;
  for (const one of list) {
    const [a, b] = one;
    const steps = Math.max(1, Math.ceil(Math.hypot(b[0] - a[0], b[1] - a[1]) / (cell / 2)));
    let before = '';
    for (let i = 0; i <= steps && entries < most; i++) {
      const at = key(a[0] + ((b[0] - a[0]) * i) / steps, a[1] + ((b[1] - a[1]) * i) / steps);
      if (at === before) continue;
      before = at;
      entries++;
      const held = cells.get(at);
      if (held) held.push(one);
      else cells.set(at, [one]);
    }
  }
  return cells;
}

/** @param {number} x @param {number} y */
const key = (x, y) => `${Math.floor(x / cell)},${Math.floor(y / cell)}`;
