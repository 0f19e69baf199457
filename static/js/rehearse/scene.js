// @ts-check
// The room's drawing, lit: each luminaire with its level by fill and number,
// each device to be clicked.
import { byId, drawn } from './model.js';

/** @typedef {import('./model.js').Model} Model */

/** @type {Map<string, {glow: SVGElement, body: Element | null, text: SVGElement}[]>} lamps by load */
const lamps = new Map();

/** @param {Model} model @param {(device: string, element: Element) => void} open */
export function prepare(model, open) {
  const picture = document.querySelector('#scene svg');
  if (!picture) return;
  const glows = drawn('g', { class: 'glows' });
  const texts = drawn('g', { class: 'lamp-texts' });
  for (const lamp of model.lamps) {
    const glow = drawn('circle', { cx: lamp.x, cy: lamp.y, r: 9, class: 'glow' });
    const text = drawn('text', { x: lamp.x, y: lamp.y + 3.6, class: 'lamp-text', 'font-size': 2 });
    glows.append(glow);
    texts.append(text);
    const list = lamps.get(lamp.load) ?? [];
    list.push({ glow, body: document.getElementById(lamp.id), text });
    lamps.set(lamp.load, list);
  }
  // Light lies on the room's floor, below walls and devices.
  const floor = picture.querySelector('[data-layer="rooms"] .p-room');
  if (floor) {
    const clip = drawn('clipPath', { id: 'floor' });
    clip.append(floor.cloneNode(true));
    picture.prepend(clip);
    glows.setAttribute('clip-path', 'url(#floor)');
  }
  picture.querySelector('[data-layer="rooms"]')?.after(glows);
  picture.append(texts);
  for (const device of model.devices) {
    const symbol = document.getElementById(device.element);
    if (!symbol) continue;
    symbol.setAttribute('tabindex', '0');
    symbol.setAttribute('role', 'button');
    symbol.setAttribute('aria-label', `${device.tag}, ${device.what}: operate it`);
    symbol.classList.add('operable');
    symbol.addEventListener('click', () => open(device.id, symbol));
    symbol.addEventListener('keydown', (event) => {
      const key = /** @type {KeyboardEvent} */ (event).key;
      if (key !== 'Enter' && key !== ' ') return;
      event.preventDefault();
      open(device.id, symbol);
    });
  }
}

/** @param {string} load @param {number} level @param {string} text */
export function light(load, level, text) {
  for (const lamp of lamps.get(load) ?? []) {
    const share = (level / 100).toFixed(3);
    if (lamp.glow.style.getPropertyValue('--lit') !== share) {
      lamp.glow.style.setProperty('--lit', share);
      /** @type {SVGElement | null} */ (lamp.body)?.style.setProperty('--lit', share);
      lamp.body?.classList.toggle('lit', level > 0.05);
    }
    if (lamp.text.textContent !== text) lamp.text.textContent = text;
  }
}

/** Sensors that say someone is there stand out. @param {Model} model @param {Map<string, string>} reports */
export function mark(model, reports) {
  for (const device of model.devices) {
    document.getElementById(device.element)?.classList.toggle('occupied', reports.get(device.id) === 'occupied');
  }
}

/** The card of a device beside its symbol on the drawing. @param {string} device @param {Element} symbol */
export function openCard(device, symbol) {
  const card = document.querySelector(`#inputs [data-card="${CSS.escape(device)}"]`);
  const hand = byId('hand');
  if (!card) return;
  hand.querySelector('.card')?.remove();
  const copy = /** @type {HTMLElement} */ (card.cloneNode(true));
  for (const one of copy.querySelectorAll('[id]')) one.removeAttribute('id');
  copy.removeAttribute('id');
  hand.prepend(copy);
  hand.hidden = false;
  const box = symbol.getBoundingClientRect();
  const stage = byId('scene').getBoundingClientRect();
  const left = Math.min(Math.max(0, box.left + box.width / 2 - stage.left - hand.offsetWidth / 2), Math.max(0, stage.width - hand.offsetWidth));
  const below = box.bottom - stage.top + 6;
  const top = below + hand.offsetHeight > stage.height ? Math.max(0, box.top - stage.top - hand.offsetHeight - 6) : below;
  hand.style.left = `${left}px`;
  hand.style.top = `${top}px`;
  hand.setAttribute('aria-label', copy.getAttribute('aria-label') ?? '');
  hand.focus({ preventScroll: true });
  hand.dataset.from = symbol.id;
}

export function closeCard() {
  const hand = document.getElementById('hand');
  if (!hand || hand.hidden) return false;
  const held = hand.contains(document.activeElement);
  hand.hidden = true;
  hand.querySelector('.card')?.remove();
  if (held) document.getElementById(hand.dataset.from ?? '')?.focus();
  return true;
}
