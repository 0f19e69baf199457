// @ts-check
// Which part of the plan the screen shows: pan and zoom, and the way between
// the plan's meters and the screen's pixels. Imports no DOM.

/** @typedef {import('./model.js').Point} Point @typedef {import('./model.js').Model} Model */

const least = 0.5; // pixels a meter: a kilometer on a screen
const most = 4000; // a millimeter is 4 pixels

export class View {
  /** @type {Point} meters, in the middle of the screen */
  center = [0, 0];
  scale = 40; // pixels a meter
  width = 1; // of the stage, pixels
  height = 1;

  /** @param {Point} p pixels from the stage's upper left corner @returns {Point} meters */
  toPlan(p) {
    return [this.center[0] + (p[0] - this.width / 2) / this.scale, this.center[1] - (p[1] - this.height / 2) / this.scale];
  }

  /** @param {Point} p meters @returns {Point} pixels */
  toScreen(p) {
    return [(p[0] - this.center[0]) * this.scale + this.width / 2, (this.center[1] - p[1]) * this.scale + this.height / 2];
  }

  /** Zooms so that what lies under a point of the screen stays there. @param {Point} p pixels @param {number} factor */
  zoom(p, factor) {
    const held = this.toPlan(p);
    this.scale = Math.min(most, Math.max(least, this.scale * factor));
    const now = this.toPlan(p);
    this.center = [this.center[0] + held[0] - now[0], this.center[1] + held[1] - now[1]];
  }

  /** @param {number} dx pixels @param {number} dy */
  pan(dx, dy) {
    this.center = [this.center[0] - dx / this.scale, this.center[1] + dy / this.scale];
  }

  /** Shows a box of the plan as large as it can be. @param {[number, number, number, number]} box left, bottom, right, top */
  fit(box) {
    const [left, bottom, right, top] = box;
    const margin = 24; // pixels on each side
    const wide = Math.max(right - left, 0.5);
    const high = Math.max(top - bottom, 0.5);
    this.center = [(left + right) / 2, (bottom + top) / 2];
    this.scale = Math.min(most, Math.max(least, Math.min((this.width - 2 * margin) / wide, (this.height - 2 * margin) / high)));
  }

  /** All that is drawn. @param {Model} model */
  fitAll(model) {
    this.fit(model.box);
  }

  /** A place in the middle, near enough to see it. @param {Point} at meters */
  lookAt(at) {
    this.center = at;
    this.scale = Math.max(this.scale, 60);
  }

  /** Where the server's drawing lies on the screen: its corner in pixels, and pixels a millimeter of it. @param {Model} model */
  placed(model) {
    const [x, y] = this.toScreen(model.origin);
    return { x, y, scale: this.scale / model.scale };
  }
}
