// @ts-check
// Pages on which a project as a whole is edited: forms that add a row and are
// at once ready for the next, dialogs that an answer brings, and filters that
// keep the page's address in step.

/** @typedef {{sourceElement: Element, request: {method: string, action: string}, response?: {status: number}}} Context */

/** @param {Event} event */
const context = (event) => /** @type {Context} */ (/** @type {CustomEvent} */ (event).detail.ctx);

/** The answer brought the form anew: take its values, also where the person still stands in a field. @param {HTMLFormElement} form */
function nextRow(form) {
  for (const field of form.querySelectorAll('input, textarea')) {
    if (field instanceof HTMLInputElement && !['checkbox', 'radio', 'hidden', 'submit'].includes(field.type)) field.value = field.defaultValue;
    if (field instanceof HTMLTextAreaElement) field.value = field.defaultValue;
  }
  const first = form.querySelector('[data-first]');
  if (first instanceof HTMLInputElement) {
    first.focus();
    first.select();
  }
}

document.addEventListener('htmx:finally:request', (event) => {
  const { sourceElement, response } = context(event);
  const ok = response !== undefined && response.status < 400;
  const id = sourceElement.id;
  const form = (id && document.getElementById(id)) || sourceElement;
  if (ok && form instanceof HTMLFormElement && form.matches('[data-add]')) nextRow(form);
  if (ok && sourceElement.matches('[data-closes]')) closeDialogs();
});

function closeDialogs() {
  for (const dialog of document.querySelectorAll('#desk-dialog dialog[open], #desk dialog[open]')) /** @type {HTMLDialogElement} */ (dialog).close();
}

// A dialog that an answer brought opens itself; Escape and Cancel close it.
document.addEventListener('htmx:after:settle', () => {
  const dialog = document.querySelector('#desk-dialog dialog[data-open]');
  if (!(dialog instanceof HTMLDialogElement) || dialog.open) return;
  const field = dialog.querySelector('[data-first]');
  dialog.showModal();
  if (field instanceof HTMLElement) field.focus();
});

// "close" does not bubble; a dialog that was answered must not open again.
document.addEventListener('close', (event) => {
  if (event.target instanceof HTMLDialogElement && event.target.closest('#desk-dialog')) event.target.remove();
}, true);

document.addEventListener('click', (event) => {
  if (/** @type {Element} */ (event.target).closest('[data-cancel]')) closeDialogs();
});

// Facts are sent as they change, also by Enter; by hand only where no script runs.
document.addEventListener('submit', (event) => {
  if (/** @type {Element} */ (event.target).matches('form[data-plain]')) event.preventDefault();
});

// The address follows the filters, so that reload, links and edits mean what is shown.
document.addEventListener('htmx:after:request', (event) => {
  const { sourceElement, request, response } = context(event);
  if (request.method !== 'GET' || (response?.status ?? 0) >= 400 || !sourceElement.matches('[data-address]')) return;
  const address = new URL(request.action, location.href);
  const kept = new URLSearchParams();
  for (const [name, value] of address.searchParams) if (value) kept.set(name, value);
  else kept.delete(name);
  address.search = kept.toString();
  history.replaceState(null, '', address);
});
