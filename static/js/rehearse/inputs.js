// @ts-check
// What a person can do to the room: press and hold buttons, make sensors
// report, close contacts, send commands, cut the power. Each becomes a step.

/** @typedef {import('./tracks.js').Step} Step @typedef {import('./run.js').Run} Run */

const holdAfter = 500; // ms that a pointer rests on a button until it counts as held

/** @param {Element} button @returns {Step} */
const buttonStep = (button) => ({ happen: 'press', device: button.getAttribute('data-device') ?? '', button: Number(button.getAttribute('data-button')) });

/** How many lx are one of the unit in which a field is typed. @param {Element} field */
const luxPer = (field) => Number(field.getAttribute('data-lux')) || 1;

/** What the steps so far have left: the last report of each sensor, what is held, what is switched. @param {Step[]} steps */
export function stateOf(steps) {
  /** @type {Map<string, string>} */ const last = new Map();
  /** @type {Map<string, number>} */ const lux = new Map();
  /** @type {Set<string>} */ const held = new Set();
  for (const step of steps) {
    const device = step.device ?? '';
    const key = `${device}.${step.button ?? 0}`;
    if (['occupied', 'vacant', 'silent'].includes(step.happen)) last.set(device, step.happen);
    else if (step.happen === 'daylight') lux.set(device, step.lx ?? 0);
    else if (step.happen.startsWith('contact ')) last.set(key, step.happen);
    else if (step.happen === 'hold') held.add(key);
    else if (step.happen === 'release') held.delete(key);
    else last.set(family(step.happen), step.happen);
  }
  return { last, lux, held };
}

/** "power" of "power lost": what a switch stands for. @param {string} happen */
const family = (happen) => happen.replace(/ (lost|back|start|end)$/, '').replace(/ (opens|closes)$/, '');

/** Shows what was reported and switched last, wherever it stands. @param {Step[]} steps */
export function showState(steps) {
  const { last, lux, held } = stateOf(steps);
  for (const button of document.querySelectorAll('[data-report], [data-contact]')) {
    const key = button.hasAttribute('data-contact') ? `${button.getAttribute('data-device')}.${button.getAttribute('data-button')}` : button.getAttribute('data-device') ?? '';
    button.setAttribute('aria-pressed', String(last.get(key) === (button.getAttribute('data-report') ?? button.getAttribute('data-contact'))));
  }
  for (const button of document.querySelectorAll('[data-hold]')) {
    button.setAttribute('aria-pressed', String(held.has(`${button.getAttribute('data-device')}.${button.getAttribute('data-button')}`)));
  }
  for (const button of document.querySelectorAll('[data-event]')) {
    const happen = button.getAttribute('data-event') ?? '';
    button.setAttribute('aria-pressed', String(last.get(family(happen)) === happen));
  }
  for (const control of document.querySelectorAll('button[role=switch]')) {
    const on = control.getAttribute('data-on') ?? '';
    const now = last.get(family(on));
    control.setAttribute('aria-checked', String(now === undefined ? control.hasAttribute('data-first') : now === on));
  }
  for (const field of /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll('input[data-lux]'))) {
    const value = lux.get(field.getAttribute('data-device') ?? '');
    const shown = value === undefined ? '' : String(Math.round((value / luxPer(field)) * 10) / 10);
    if (field !== document.activeElement || field.type === 'range') field.value = shown || (field.type === 'range' ? '0' : '');
  }
  return { last, lux, held };
}

/** @param {HTMLElement} root @param {Run} run */
export function listen(root, run) {
  /** @type {{button: Element, timer: number, held: boolean} | null} */
  let down = null;
  let swallow = false; // the click that ends a hold is none

  root.addEventListener('pointerdown', (event) => {
    const button = /** @type {Element} */ (event.target).closest('[data-press][data-holds]');
    if (!button || event.button !== 0) return;
    const started = { button, held: false, timer: 0 };
    started.timer = window.setTimeout(() => {
      started.held = true;
      run.holding = true;
      void run.act({ ...buttonStep(button), happen: 'hold' });
    }, holdAfter);
    down = started;
  });
  const up = () => {
    if (!down) return;
    clearTimeout(down.timer);
    if (down.held) {
      swallow = true;
      setTimeout(() => { swallow = false; }, 0);
      run.holding = false;
      void run.act({ ...buttonStep(down.button), happen: 'release' });
    }
    down = null;
  };
  window.addEventListener('pointerup', up);
  window.addEventListener('pointercancel', up);

  // A finger that rests on a button holds it; it asks for no menu.
  root.addEventListener('contextmenu', (event) => {
    if (/** @type {Element} */ (event.target).closest('[data-press][data-holds]')) event.preventDefault();
  });

  root.addEventListener('click', (event) => {
    const target = /** @type {Element} */ (event.target);
    const step = clicked(target, run);
    if (step && !swallow) void run.act(step);
  });
  root.addEventListener('change', (event) => {
    const field = event.target;
    if (field instanceof HTMLInputElement && field.matches('[data-lux]')) {
      const lx = Number(field.value) * luxPer(field);
      if (field.value !== '' && Number.isFinite(lx) && lx >= 0) void run.act({ happen: 'daylight', device: field.getAttribute('data-device') ?? '', lx });
    }
    if (field instanceof HTMLSelectElement && field.matches('[data-mode]') && field.value) {
      void run.act({ happen: 'mode', text: field.value });
      field.value = '';
    }
  });
  // A slider tells its number while it moves.
  root.addEventListener('input', (event) => {
    const field = event.target;
    if (!(field instanceof HTMLInputElement) || field.type !== 'range') return;
    const number = field.parentElement?.querySelector('input[type=number]');
    if (number instanceof HTMLInputElement) number.value = field.value;
  });
}

/** @param {Element} target @param {Run} run @returns {Step | null} */
function clicked(target, run) {
  const device = (/** @type {Element} */ e) => e.getAttribute('data-device') ?? '';
  const one = (/** @type {string} */ name) => target.closest(`[data-${name}]`);
  let found = one('press');
  if (found) return buttonStep(found);
  found = one('hold');
  if (found) {
    const held = found.getAttribute('aria-pressed') === 'true';
    run.holding = !held;
    return { ...buttonStep(found), happen: held ? 'release' : 'hold' };
  }
  found = one('report');
  if (found) return { happen: found.getAttribute('data-report') ?? '', device: device(found) };
  found = one('contact');
  if (found) return { happen: found.getAttribute('data-contact') ?? '', device: device(found), button: Number(found.getAttribute('data-button')) };
  found = one('command');
  if (found) return { happen: 'av command', device: device(found), text: found.getAttribute('data-command') ?? '' };
  found = one('event');
  if (found) return { happen: found.getAttribute('data-event') ?? '' };
  found = target.closest('button[role=switch]');
  if (found) return { happen: found.getAttribute(found.getAttribute('aria-checked') === 'true' ? 'data-off' : 'data-on') ?? '' };
  return null;
}
