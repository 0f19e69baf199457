// @ts-check
// The upper layer: what is selected and what a gesture is about to do. Never
// stored. Shapes are given in meters and drawn anew when the view changes.

/** @typedef {import('./model.js').Point} Point @typedef {import('./view.js').View} View */
/** @typedef {{kind: 'ring', at: Point, name?: string, text?: string} | {kind: 'line', points: Point[], closed?: boolean, name?: string}
 *  | {kind: 'box', a: Point, b: Point, name?: string} | {kind: 'handle', at: Point, name?: string} | {kind: 'mark', at: Point, name?: string, text?: string}
 *  | {kind: 'text', at: Point, text: string, name?: string}} Shape */

const namespace = 'http://www.w3.org/2000/svg';

export class Preview {
  /** @type {Map<string, Shape[]>} what each part of the board shows */
  parts = new Map();

  /** @param {SVGElement} svg @param {View} view */
  constructor(svg, view) {
    this.svg = svg;
    this.view = view;
  }

  /** @param {string} part @param {Shape[]} shapes */
  set(part, shapes) {
    if (shapes.length === 0 && !this.parts.has(part)) return;
    this.parts.set(part, shapes);
    this.draw();
  }

  draw() {
    const drawn = [...this.parts.values()].flat().map((shape) => this.element(shape));
    this.svg.replaceChildren(...drawn);
  }

  /** @param {Shape} shape */
  element(shape) {
    const name = `u-${shape.name ?? shape.kind}`;
    switch (shape.kind) {
      case 'line':
        return make(shape.closed ? 'polygon' : 'polyline', { points: shape.points.map((p) => this.view.toScreen(p).join(',')).join(' '), class: name });
      case 'box': {
        const [ax, ay] = this.view.toScreen(shape.a);
        const [bx, by] = this.view.toScreen(shape.b);
        return make('rect', { x: Math.min(ax, bx), y: Math.min(ay, by), width: Math.abs(ax - bx), height: Math.abs(ay - by), class: name });
      }
      case 'ring':
        return this.labeled(make('circle', { ...this.circle(shape.at), r: Math.max(9, this.view.scale * 0.3), class: name }), shape.at, shape.text);
      case 'mark':
        return this.labeled(make('circle', { ...this.circle(shape.at), r: 5, class: name }), shape.at, shape.text);
      case 'handle': {
        const [x, y] = this.view.toScreen(shape.at);
        return make('rect', { x: x - 5, y: y - 5, width: 10, height: 10, class: name });
      }
      case 'text':
        return this.labeled(make('g', {}), shape.at, shape.text);
    }
  }

  /** @param {Point} at */
  circle(at) {
    const [cx, cy] = this.view.toScreen(at);
    return { cx, cy };
  }

  /** @param {SVGElement} element @param {Point} at @param {string | undefined} text */
  labeled(element, at, text) {
    if (!text) return element;
    const [x, y] = this.view.toScreen(at);
    const label = make('text', { x: x + 12, y: y - 10, class: 'u-text' });
    label.textContent = text;
    const group = make('g', {});
    group.append(element, label);
    return group;
  }
}

/** @param {string} tag @param {Record<string, string | number>} attributes */
export function make(tag, attributes) {
  const element = document.createElementNS(namespace, tag);
  for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
  return /** @type {SVGElement} */ (element);
}
