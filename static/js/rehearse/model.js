// @ts-check
// What the page knows of the room: its loads, and where on the drawing their
// luminaires hang and its devices stand.

/** @typedef {{id: string, tag: string, name: string, receptacle: boolean, switched: boolean}} Load */
/** @typedef {{load: string, x: number, y: number, id: string}} Lamp */
/** @typedef {{id: string, element: string, tag: string, what: string}} Device */
/** @typedef {{loads: Load[], lamps: Lamp[], devices: Device[]}} Model */

/** @param {string | null} text @returns {Model} */
export const read = (text) => ({ loads: [], lamps: [], devices: [], ...JSON.parse(text || '{}') });

/** The element of that ID; the server drew it. @param {string} id */
export const byId = (id) => /** @type {HTMLElement} */ (document.getElementById(id));

const svg = 'http://www.w3.org/2000/svg';

/** @param {string} name @param {Record<string, string | number>} attributes @param {string} [text] @returns {SVGElement} */
export function drawn(name, attributes, text) {
  const element = document.createElementNS(svg, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  if (text !== undefined) element.textContent = text;
  return element;
}

/** @param {string} name @param {string} text @param {string} [kind] */
export function element(name, text, kind) {
  const made = document.createElement(name);
  made.textContent = text;
  if (kind) made.className = kind;
  return made;
}
