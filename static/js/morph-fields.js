// @ts-check
// After a part of the page was replaced, fields must show what the server says.
// A morphing swap copies attributes; a field that the person changed keeps its
// own value when the server's attribute is the same as before (a refused edit,
// an undo). The focused field is left alone: someone is typing in it. So are
// fields inside [data-draft], forms that are filled in before they are sent.

/** @param {Element} field */
function showServerValue(field) {
  if (field === document.activeElement || field.closest('[data-draft]')) return;
  if (field instanceof HTMLInputElement) {
    if (field.type === 'checkbox' || field.type === 'radio') field.checked = field.defaultChecked;
    else if (field.type !== 'file' && field.value !== field.defaultValue) field.value = field.defaultValue;
  } else if (field instanceof HTMLTextAreaElement) {
    if (field.value !== field.defaultValue) field.value = field.defaultValue;
  } else if (field instanceof HTMLSelectElement) {
    for (const option of field.options) {
      if (option.selected !== option.defaultSelected) option.selected = option.defaultSelected;
    }
  }
}

document.addEventListener('htmx:after:settle', (event) => {
  const { newContent } = /** @type {CustomEvent} */ (event).detail;
  for (const node of newContent) {
    if (!(node instanceof Element)) continue;
    showServerValue(node);
    for (const field of node.querySelectorAll('input, select, textarea')) showServerValue(field);
  }
});
