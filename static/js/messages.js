// @ts-check
// Messages, dialogs and menus: what opens, closes.
import { suggest } from './suggestions.js';

const toastTime = 7000; // ms that a passing message stays

/** The button that opens a dialog says what it is about: values of its fields and a message.
 * @param {HTMLDialogElement} dialog @param {Element} opener */
function fill(dialog, opener) {
  const values = JSON.parse(opener.getAttribute('data-fill') ?? '{}');
  for (const [name, value] of Object.entries(values)) {
    const field = dialog.querySelector(`[name="${name}"]`);
    if (field instanceof HTMLInputElement) field.value = String(value);
  }
  const message = dialog.querySelector('[data-message]');
  if (message) message.textContent = opener.getAttribute('data-message');
}

// A dialog's form that was stored is done with.
document.addEventListener('htmx:finally:request', (event) => {
  const { sourceElement, response } = /** @type {CustomEvent} */ (event).detail.ctx;
  if (!(sourceElement instanceof HTMLFormElement) || !sourceElement.matches('[data-closes]') || (response?.status ?? 500) >= 400) return;
  sourceElement.reset();
  sourceElement.closest('dialog')?.close();
});

document.addEventListener('click', (event) => {
  const target = /** @type {Element} */ (event.target);
  const dismiss = target.closest('[data-dismiss]');
  if (dismiss) dismiss.closest('.banner, .toast')?.remove();
  const opener = target.closest('[data-opens]');
  if (opener) {
    const dialog = document.querySelector(opener.getAttribute('data-opens') ?? '');
    if (dialog instanceof HTMLDialogElement) {
      fill(dialog, opener);
      suggest(dialog, opener);
      dialog.showModal();
    }
  }
  if (target.closest('[data-cancel]')) target.closest('dialog')?.close();
  for (const menu of document.querySelectorAll('details.menu[open]')) {
    if (!menu.contains(target)) menu.removeAttribute('open');
  }
});

document.addEventListener('keydown', (event) => {
  if (event.key !== 'Escape') return;
  const menu = document.activeElement?.closest('details.menu[open]');
  if (!menu) return;
  menu.removeAttribute('open');
  menu.querySelector('summary')?.focus();
});

new MutationObserver((records) => {
  for (const record of records) {
    for (const node of record.addedNodes) {
      if (node instanceof Element && node.matches('.toast')) setTimeout(() => node.remove(), toastTime);
    }
  }
}).observe(document.getElementById('toasts') ?? document.body, { childList: true });

// A menu or a form that the person opened or closed stays so when its part is renewed.
/** @type {Map<string, boolean>} */
const folds = new Map();
document.addEventListener('toggle', (event) => {
  const details = event.target;
  if (details instanceof HTMLDetailsElement && details.id) folds.set(details.id, details.open);
}, true);
document.addEventListener('htmx:after:settle', () => {
  for (const [id, open] of [...folds]) {
    const details = document.getElementById(id);
    if (details instanceof HTMLDetailsElement) details.open = open;
    else folds.delete(id);
  }
});
