// @ts-check
// The building table: which rooms are selected, and what can be done with them.

/** @type {HTMLInputElement | null} the box that was ticked last, where shift-click begins */
let last = null;

const boxes = () => /** @type {HTMLInputElement[]} */ ([...document.querySelectorAll('#rooms input[name=room]')]);
/** @param {string} id */
const input = (id) => /** @type {HTMLInputElement | null} */ (document.getElementById(id));

/** Says how many are selected and lets only that be pressed which they allow. */
function tell() {
  const list = boxes();
  const ticked = list.filter((box) => box.checked);
  const all = input('all');
  const said = document.getElementById('selected');
  if (!said || !all) return;
  const label = document.querySelector('label[for=all]')?.textContent ?? 'all';
  const n = ticked.length;
  said.textContent = all.checked ? label : n === 0 ? 'No rooms selected' : n === 1 ? '1 room selected' : `${n} rooms selected`;
  for (const box of list) box.closest('tr')?.setAttribute('aria-selected', String(box.checked || all.checked));
  for (const button of /** @type {NodeListOf<HTMLButtonElement>} */ (document.querySelectorAll('[data-bulk]'))) {
    button.disabled = button.dataset.bulk === 'model' ? all.checked || n !== 1 : !all.checked && n === 0;
  }
  const none = /** @type {HTMLButtonElement | null} */ (document.getElementById('select-none'));
  if (none) none.disabled = n === 0 && !all.checked;
  const page = input('select-page');
  if (page) {
    page.checked = list.length > 0 && n === list.length;
    page.indeterminate = n > 0 && n < list.length;
  }
}

/** @param {boolean} on */
function selectPage(on) {
  for (const box of boxes()) box.checked = on;
  const all = input('all');
  if (all && !on) all.checked = false;
}

document.addEventListener('click', (event) => {
  const target = event.target;
  if (!(target instanceof HTMLElement)) return;
  if (target.id === 'select-none') {
    selectPage(false);
    tell();
  }
  if (!(target instanceof HTMLInputElement) || target.name !== 'room') return;
  if (event.shiftKey && last?.isConnected) {
    const list = boxes();
    const [from, to] = [list.indexOf(last), list.indexOf(target)].sort((a, b) => a - b);
    for (const box of list.slice(from, to + 1)) box.checked = target.checked;
  }
  last = target;
  tell();
});

document.addEventListener('change', (event) => {
  const target = event.target;
  if (!(target instanceof HTMLInputElement)) return;
  if (target.id === 'select-page') selectPage(target.checked);
  if (target.id === 'select-page' || target.id === 'all' || target.name === 'room') tell();
});

document.addEventListener('htmx:after:settle', tell);
tell();
