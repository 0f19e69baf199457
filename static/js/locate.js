// @ts-check
// From a finding to the thing that it is about: scroll there, mark it, focus it.

/** @param {string} id */
function locate(id) {
  const thing = document.getElementById(id);
  if (!thing) return false;
  for (const old of document.querySelectorAll('.located')) old.classList.remove('located');
  thing.classList.add('located');
  thing.scrollIntoView({ block: 'center' });
  const focus = thing.matches('[tabindex], input, select, textarea') ? thing : thing.querySelector('[tabindex]');
  if (focus instanceof HTMLElement) focus.focus({ preventScroll: true });
  return true;
}

document.addEventListener('click', (event) => {
  const link = /** @type {Element} */ (event.target).closest('a[data-locate]');
  if (!link) return;
  if (locate((link.getAttribute('href') ?? '').slice(1))) event.preventDefault();
});

if (location.hash) locate(decodeURIComponent(location.hash.slice(1)));
