// @ts-check
// Reading a large file takes a moment: its form says so, and cannot be sent
// twice meanwhile.

document.addEventListener('submit', (event) => {
  const form = event.target;
  if (!(form instanceof HTMLFormElement) || !form.matches('[data-upload]')) return;
  const bar = form.querySelector('progress');
  if (bar) bar.hidden = false;
  // After the event: a disabled button would not be sent.
  setTimeout(() => {
    for (const button of form.querySelectorAll('button')) button.disabled = true;
  });
});

// Coming back by the browser's own button shows the page as it was left.
window.addEventListener('pageshow', () => {
  for (const form of document.querySelectorAll('form[data-upload]')) {
    const bar = form.querySelector('progress');
    if (bar) bar.hidden = true;
    for (const button of form.querySelectorAll('button')) button.disabled = false;
  }
});
