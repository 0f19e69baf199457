// @ts-check
// A download says nothing while it is made. So a file is asked for with a
// token; the answer puts the token into a cookie, and until it is there a
// message says that the file is on its way.

const giveUpAfter = 5 * 60 * 1000; // milliseconds

/** @returns {string} */
function newToken() {
  const bytes = crypto.getRandomValues(new Uint8Array(8));
  return [...bytes].map((b) => b.toString(16).padStart(2, '0')).join('');
}

/** @param {string} token */
const arrived = (token) => document.cookie.split('; ').includes(`sw_made=${token}`);

/** @param {string} name @param {string} token */
function announce(name, token) {
  const shelf = document.getElementById('toasts');
  if (!shelf) return;
  const toast = document.createElement('div');
  toast.className = 'toast';
  const words = document.createElement('span');
  words.className = 'making';
  const bar = document.createElement('progress');
  bar.setAttribute('aria-label', 'In the making');
  words.append(`Making ${name} ...`, bar);
  toast.append(words);
  const started = Date.now();
  // What is there at once needs no message.
  const show = setTimeout(() => shelf.append(toast), 400);
  const look = setInterval(() => {
    if (!arrived(token) && Date.now() - started < giveUpAfter) return;
    clearInterval(look);
    clearTimeout(show);
    toast.remove();
  }, 150);
}

document.addEventListener('submit', (event) => {
  const form = event.target;
  const button = event.submitter;
  if (!(form instanceof HTMLFormElement) || !form.matches('[data-documents]') || !(button instanceof HTMLButtonElement)) return;
  let field = form.querySelector('input[name="made"]');
  field?.remove();
  if (!button.hasAttribute('data-file')) return;
  const token = newToken();
  field = document.createElement('input');
  field.setAttribute('type', 'hidden');
  field.setAttribute('name', 'made');
  field.setAttribute('value', token);
  form.append(field);
  announce(button.dataset.name ?? 'the file', token);
});

document.addEventListener('click', (event) => {
  const link = event.target instanceof Element ? event.target.closest('a[data-file]') : null;
  if (!(link instanceof HTMLAnchorElement) || event.ctrlKey || event.metaKey || event.shiftKey) return;
  const token = newToken();
  const url = new URL(link.href);
  url.searchParams.set('made', token);
  link.href = url.href;
  announce(link.dataset.name ?? 'the file', token);
});
