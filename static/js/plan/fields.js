// @ts-check
// The fields of the selected window, door, gap or rooflight, beside the plan. The
// server says what they are and reads what is typed.
import * as Model from './model.js';
import { send } from './send.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Field} Field */

/** What was refused last, until something else is stored. @type {{path: string, text: string, message: string} | null} */
let refused = null;

document.addEventListener('cell-refused', (event) => {
  refused = /** @type {CustomEvent} */ (event).detail;
  const input = /** @type {HTMLInputElement | null} */ (document.querySelector(`#inspector [data-path="${CSS.escape(refused?.path ?? '')}"]`));
  if (!input || !refused) return;
  tell(input, refused.message);
  input.focus({ preventScroll: true });
});

/** @param {Board} board @param {string} key @returns {HTMLElement[]} */
export function fields(board, key) {
  const one = Model.wall(board.model, key) ?? Model.rooflight(board.model, key);
  const list = board.model.fields[one?.what ?? ''];
  if (!one?.values || !list) return [];
  const block = document.createElement('div');
  block.className = 'fields';
  block.id = 'thing-fields';
  block.append(...list.map((field, i) => row(key, field, one.values?.[i] ?? '')));
  return [block];
}

/** @param {string} key @param {Field} field @param {string} value */
function row(key, field, value) {
  const id = `field-${field.name}`;
  const box = document.createElement('div');
  box.className = 'field';
  const label = document.createElement('label');
  label.htmlFor = id;
  label.textContent = field.title;
  const input = field.choices ? choice(field.choices, value) : text(field, value);
  input.id = id;
  input.dataset.path = `${key}/${field.name}`;
  input.setAttribute('aria-describedby', `${id}-hint ${id}-error`);
  input.title = field.hint ?? '';
  const hint = document.createElement('span');
  hint.className = 'visually-hidden';
  hint.id = `${id}-hint`;
  hint.textContent = field.hint ?? '';
  const error = document.createElement('p');
  error.className = 'field-error';
  error.id = `${id}-error`;
  box.append(label, input, hint, error);
  if (refused?.path === input.dataset.path) {
    input.value = refused.text;
    tell(input, refused.message);
  }
  input.addEventListener('change', () => {
    refused = null;
    input.dataset.sent = input.value;
    input.removeAttribute('aria-invalid');
    error.textContent = '';
    send({ do: 'set', things: [key], field: field.name, text: input.value });
  });
  return box;
}

/** @param {Field} field @param {string} value */
function text(field, value) {
  const input = document.createElement('input');
  input.value = input.defaultValue = value;
  input.placeholder = field.empty ?? '';
  input.autocomplete = 'off';
  return input;
}

/** @param {string[]} choices @param {string} value */
function choice(choices, value) {
  const select = document.createElement('select');
  select.append(...choices.map((one) => new Option(one, one, one === value, one === value)));
  return select;
}

/** @param {HTMLInputElement | HTMLSelectElement} input @param {string} message */
function tell(input, message) {
  input.setAttribute('aria-invalid', 'true');
  const error = document.getElementById(`${input.id}-error`) ?? input.parentElement?.querySelector('.field-error');
  if (error) error.textContent = message;
}

/** What stands in a field that is being typed in and was not sent yet: a renewed panel takes it over. @param {Element | null} active */
export function typed(active) {
  if (!(active instanceof HTMLInputElement) || !active.dataset.path || active.value === active.defaultValue || active.value === active.dataset.sent) return () => {};
  const { id, value } = active;
  const { path } = active.dataset;
  return () => {
    const now = document.getElementById(id);
    if (now instanceof HTMLInputElement && now.dataset.path === path) now.value = value;
  };
}
