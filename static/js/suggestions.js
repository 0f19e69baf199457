// @ts-check
// Words to begin a reason with, offered in a dialog beside the field that they are for.

/** Offers the words that the opener of a dialog brings; without any, nothing shows.
 * @param {HTMLDialogElement} dialog @param {Element} opener */
export function suggest(dialog, opener) {
  const box = dialog.querySelector('[data-suggestions]');
  const list = box?.querySelector('ul');
  if (!(box instanceof HTMLElement) || !list) return;
  /** @type {string[]} */
  const words = JSON.parse(opener.getAttribute('data-suggest') ?? '[]');
  box.hidden = words.length === 0;
  list.replaceChildren(...words.map((text) => {
    const item = document.createElement('li');
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'quiet';
    button.textContent = text;
    item.append(button);
    return item;
  }));
}

document.addEventListener('click', (event) => {
  const button = /** @type {Element} */ (event.target).closest('[data-suggestions] button');
  const box = button?.closest('[data-suggestions]');
  const field = document.getElementById(box?.getAttribute('data-suggestions') ?? '');
  if (!button || !(field instanceof HTMLTextAreaElement)) return;
  field.value = button.textContent ?? '';
  field.focus();
  field.dispatchEvent(new Event('input', { bubbles: true }));
});
