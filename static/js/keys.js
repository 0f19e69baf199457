// @ts-check
// Keys that act on the page as a whole.

/** @param {EventTarget | null} target */
const typing = (target) => target instanceof Element && target.matches('input, select, textarea, [contenteditable]');

/** @param {string} id */
function press(id) {
  const button = document.getElementById(id);
  if (button instanceof HTMLButtonElement && !button.disabled) button.click();
}

document.addEventListener('keydown', (event) => {
  const mod = event.ctrlKey || event.metaKey;
  const key = event.key.toLowerCase();
  if (mod && !event.altKey && (key === 'z' || key === 'y') && !typing(event.target)) {
    event.preventDefault();
    press(key === 'y' || event.shiftKey ? 'redo' : 'undo');
    return;
  }
  if (event.altKey && !mod && (key === 'pageup' || key === 'pagedown')) {
    const link = document.querySelector(key === 'pageup' ? 'a[rel=prev]' : 'a[rel=next]');
    if (link instanceof HTMLElement) {
      event.preventDefault();
      link.click();
    }
    return;
  }
  if (event.key === '?' && !typing(event.target)) {
    const dialog = document.getElementById('keys');
    if (dialog instanceof HTMLDialogElement && !dialog.open) dialog.showModal();
  }
});
