// @ts-check
// The keyboard of the review: J and K (or the arrows) go from question to
// question, A, O and N give a verdict, C goes to the comment. Choosing "object"
// leads to the comment, because an objection without one is refused.

const typing = 'textarea, input:not([type="radio"], [type="checkbox"], [type="button"], [type="submit"]), select, [contenteditable]';

/** @returns {HTMLElement[]} */
function questions() {
  return [...document.querySelectorAll('[data-question]')].filter((q) => q instanceof HTMLElement);
}

/** @returns {HTMLElement | null} the question that has the focus */
function current() {
  const found = document.activeElement?.closest('[data-question]');
  return found instanceof HTMLElement ? found : null;
}

/** @param {number} by */
function go(by) {
  const all = questions();
  if (all.length === 0) return;
  const now = current();
  const at = now ? all.indexOf(now) + by : by > 0 ? firstInSight(all) : 0;
  const next = all[Math.min(Math.max(at, 0), all.length - 1)];
  next.focus({ preventScroll: true });
  next.scrollIntoView({ block: 'nearest' });
}

/** @param {HTMLElement[]} all */
function firstInSight(all) {
  const at = all.findIndex((q) => q.getBoundingClientRect().top >= 0);
  return at < 0 ? 0 : at;
}

/**
 * @param {HTMLElement} question
 * @param {string} key
 */
function choose(question, key) {
  const radio = question.querySelector(`input[data-key="${key}"]`);
  if (!(radio instanceof HTMLInputElement)) return;
  if (!radio.checked) {
    radio.checked = true;
    radio.dispatchEvent(new Event('change', { bubbles: true }));
  } else if (key === 'o') {
    comment(question);
  }
}

/** @param {HTMLElement} question */
function comment(question) {
  const field = question.querySelector('textarea[name="comment"]');
  if (field instanceof HTMLTextAreaElement) {
    field.focus();
    field.setSelectionRange(field.value.length, field.value.length);
  }
}

document.addEventListener('keydown', (e) => {
  const target = e.target;
  if (!(target instanceof Element) || e.altKey || e.metaKey) return;
  if (target instanceof HTMLTextAreaElement && target.closest('[data-question]')) {
    if (e.key === 'Enter' && e.ctrlKey) {
      e.preventDefault();
      target.form?.requestSubmit();
    } else if (e.key === 'Escape') {
      current()?.focus();
    }
    return;
  }
  if (e.ctrlKey || target.closest(typing) || target.closest('dialog')) return;
  const question = current();
  const radio = target instanceof HTMLInputElement && target.type === 'radio' && question;
  switch (e.key) {
    case 'j':
      go(1);
      break;
    case 'k':
      go(-1);
      break;
    case 'ArrowDown':
      if (!question) return;
      go(1);
      break;
    case 'ArrowUp':
      if (!question) return;
      go(-1);
      break;
    case 'ArrowLeft':
    case 'ArrowRight':
      if (!radio) return; // would give a verdict in passing
      break;
    case 'a':
    case 'o':
    case 'n':
      if (!question) return;
      choose(question, e.key);
      break;
    case 'c':
      if (!question) return;
      comment(question);
      break;
    default:
      return;
  }
  e.preventDefault();
});

document.addEventListener('change', (e) => {
  const radio = e.target;
  if (radio instanceof HTMLInputElement && radio.dataset.comment) {
    const question = radio.closest('[data-question]');
    if (question instanceof HTMLElement) comment(question);
  }
});

// What the reader had opened stays open when an answer brings a question anew.
/** @type {Set<string>} */
const open = new Set();
document.addEventListener(
  'toggle',
  (e) => {
    const d = e.target;
    if (!(d instanceof HTMLDetailsElement) || !d.id) return;
    if (d.open) open.add(d.id);
    else open.delete(d.id);
  },
  true,
);
document.addEventListener('htmx:after:settle', () => {
  for (const id of open) {
    const d = document.getElementById(id);
    if (d instanceof HTMLDetailsElement && !d.open) d.open = true;
  }
});

// After an answer that was stored, fields show what is stored: also the one in
// which the person still stands, and the form of the sign-off.
document.addEventListener('htmx:finally:request', (event) => {
  const { sourceElement, response } = /** @type {CustomEvent} */ (event).detail.ctx;
  if (!response || response.status >= 400) return;
  const now = document.activeElement;
  if (now instanceof HTMLTextAreaElement && now.closest('[data-question]') && now.form?.contains(sourceElement)) now.value = now.defaultValue;
  const sign = document.getElementById('sign');
  if (sourceElement.id === 'sign' && sign instanceof HTMLFormElement) sign.reset();
});
