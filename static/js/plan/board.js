// @ts-check
// What every tool works on: the storey, the view of it, what is selected, the
// upper layer, and the line of words below.
import { Beneath } from './beneath.js';
import * as Lengths from './lengths.js';
import { distance } from './shapes.js';
import { edges, snap } from './snap.js';

/** @typedef {import('./model.js').Model} Model @typedef {import('./model.js').Point} Point @typedef {import('./snap.js').Snapped} Snapped */
/** @typedef {{p: Point, screen: Point, shift: boolean, alt: boolean, free: boolean, touch: boolean, pressed: boolean, keyed: boolean}} Pen where the pen is; free: no snapping; keyed: moved by the arrows */
/** @typedef {{name: string, cursor: string, typed?: string, enter?: () => void, leave?: () => void, down?: (pen: Pen) => void, move?: (pen: Pen) => void,
 *  up?: (pen: Pen) => void, key?: (event: KeyboardEvent) => boolean, cancel?: () => boolean, renewed?: () => void}} Tool */

export class Board {
  snapping = true;
  beneath = new Beneath();
  selectNew = false; // what the next answer brings that was not there is selected
  /** @type {Point} where the pen is, for tools that the keyboard draws with */
  pen = [0, 0];
  pointed = false; // the pointer put the pen there
  /** @type {{room: string, index: number} | null} the corner that the keyboard stands at */
  corner = null;
  /** @type {{by: Point | null, keys: string[]}} the newest copies, and how far they lie from what they were made of */
  copied = { by: null, keys: [] };

  /** @param {Model} model @param {import('./view.js').View} view @param {import('./selection.js').Selection} selection
   * @param {import('./preview.js').Preview} preview */
  constructor(model, view, selection, preview) {
    this.model = model;
    this.view = view;
    this.selection = selection;
    this.preview = preview;
  }

  /** How far a finger or a mouse may miss. @param {boolean} [touch] meters */
  radius(touch = false) {
    return (touch ? 20 : 8) / this.view.scale;
  }

  step() {
    return Lengths.gridStep(this.view.scale, this.model.units);
  }

  /** @param {Pen} pen @param {Point[]} drawn @param {string} [without] a room that is being changed @returns {Snapped} */
  snapped(pen, drawn, without) {
    if (!this.snapping || pen.free) return this.show({ at: pen.p, kind: '', guides: [] });
    const radius = this.radius(pen.touch);
    return this.show(snap([...edges(this.model, without), ...this.beneath.near(pen.p, radius)], drawn, pen.p, { radius, grid: this.step() }));
  }

  /** @param {Snapped} found */
  show(found) {
    this.preview.set('guides', [
      ...found.guides.map((points) => /** @type {const} */ ({ kind: 'line', points, name: 'guide' })),
      ...(found.kind && found.kind !== 'grid' ? [/** @type {const} */ ({ kind: 'mark', at: found.at, name: 'snap' })] : []),
    ]);
    words('plan-snapped', found.kind);
    return found;
  }

  noGuides() {
    this.preview.set('guides', []);
    words('plan-snapped', '');
  }

  /** @param {number} meters */
  length(meters) {
    return Lengths.show(meters, this.model.units);
  }

  /** @param {number} squareMeters */
  area(squareMeters) {
    return Lengths.showArea(squareMeters, this.model.units);
  }

  /** @param {Point} a @param {Point} b */
  span(a, b) {
    return this.length(distance(a, b));
  }

  /** @param {string} text a length @returns {number | null} */
  parse(text) {
    return Lengths.parse(text, this.model.units);
  }

  /** Said below the plan, and read aloud. @param {string} text */
  say(text) {
    words('plan-said', text);
  }

  /** What is being typed on the plan. @param {string} text */
  type(text) {
    const field = document.getElementById('plan-typed');
    if (!field) return;
    field.hidden = text === '';
    field.textContent = text;
  }
}

/** @param {string} id @param {string} text */
export function words(id, text) {
  const element = document.getElementById(id);
  if (element && element.textContent !== text) element.textContent = text;
}
