// @ts-check
// Puts the server's drawing where the view has it. While the view moves, the
// drawing is moved as a finished picture; it is drawn sharp once the view is still.

/** @typedef {import('./model.js').Model} Model @typedef {import('./view.js').View} View */

export const pixelsPerMillimeter = 96 / 25.4; // of CSS: 100 % is the size on paper

const pause = 250; // ms without a change after which the view is still

export class Sheet {
  /** @type {HTMLElement | null} what has been placed */
  element = null;
  x = 0; // of its corner, pixels
  y = 0;
  scale = 0;
  letters = 0; // the scale that its letters were last laid out for
  still = 0;

  /** @param {() => void} rested the drawing is sharp again */
  constructor(rested) {
    this.rested = rested;
  }

  /** @param {Model} model @param {View} view */
  place(model, view) {
    const element = document.getElementById('lower');
    if (!element) return;
    element.style.width = `${model.size[0]}mm`;
    element.style.height = `${model.size[1]}mm`;
    const placed = view.placed(model);
    const scale = placed.scale / pixelsPerMillimeter;
    if (element === this.element && placed.x === this.x && placed.y === this.y && scale === this.scale) return;
    Object.assign(this, { element, x: placed.x, y: placed.y, scale });
    this.letters ||= scale;
    element.style.transform = this.transform();
    element.style.willChange = 'transform';
    // Counted from the next frame: one that takes long is no pause.
    clearTimeout(this.still);
    requestAnimationFrame(() => {
      clearTimeout(this.still);
      this.still = window.setTimeout(() => this.rest(), pause);
    });
  }

  /** Browsers lay out all letters of an SVG drawing anew, for their next look at what lies under the pointer, where
   * the first two columns of a transform have changed. So while the view moves those stay, and the last number,
   * by which all places are divided, does the scaling. A picture scaled by it is never quite sharp. */
  transform() {
    const by = this.letters / this.scale;
    return `matrix3d(${this.letters}, 0, 0, 0, 0, ${this.letters}, 0, 0, 0, 0, 1, 0, ${this.x * by}, ${this.y * by}, 0, ${by})`;
  }

  rest() {
    if (!this.element) return;
    this.letters = this.scale;
    this.element.style.transform = this.transform();
    this.element.style.willChange = '';
    this.rested();
    document.elementFromPoint(0, 0); // letters are laid out now, not when the pointer moves next
  }
}
