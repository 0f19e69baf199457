// @ts-check
// The menu at the pointer: right click, long press, Shift+F10.
import { actions } from './actions.js';
import * as hit from './hit.js';
import * as Model from './model.js';

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Point} Point */

/** @param {HTMLElement} stage @param {Board} board @param {import('./actions.js').Plan} plan */
export function listen(stage, board, plan) {
  stage.addEventListener('contextmenu', (event) => {
    event.preventDefault();
    const box = stage.getBoundingClientRect();
    open([event.clientX - box.left - stage.clientLeft, event.clientY - box.top - stage.clientTop]);
  });
  stage.addEventListener('keydown', (event) => {
    if (event.key !== 'ContextMenu' && !(event.key === 'F10' && event.shiftKey)) return;
    event.preventDefault();
    const [key] = board.selection.keys;
    const at = key ? Model.place(board.model, key) : null;
    show(at ? board.view.toScreen(at) : [board.view.width / 2, board.view.height / 2]);
  });
  document.addEventListener('pointerdown', (event) => {
    if (!(event.target instanceof Element) || !event.target.closest('#plan-menu')) close();
  }, true);

  /** Selects what is under the pointer unless it is selected already. @param {Point} at pixels of the stage */
  function open(at) {
    const p = board.view.toPlan(at);
    board.pen = p;
    board.pointed = true;
    const all = hit.all(board.model, p, Math.max(board.radius(), 0.2));
    if (!all.some((key) => board.selection.keys.has(key))) board.selection.set(all.slice(0, 1));
    show(at);
  }

  /** @param {Point} at */
  function show(at) {
    close();
    const list = actions(board, plan);
    const box = stage.getBoundingClientRect();
    const menu = document.createElement('div');
    menu.id = 'plan-menu';
    menu.setAttribute('role', 'menu');
    menu.setAttribute('aria-label', 'What can be done here');
    menu.append(...list.map((action) => {
      const button = document.createElement('button');
      button.type = 'button';
      button.className = 'quiet';
      button.setAttribute('role', 'menuitem');
      const keys = document.createElement('span');
      keys.className = 'soft';
      keys.textContent = action.keys ?? '';
      button.append(action.name, keys);
      button.addEventListener('click', () => {
        close();
        stage.focus({ preventScroll: true });
        action.run();
      });
      return button;
    }));
    if (list.length === 0) {
      const empty = document.createElement('p');
      empty.className = 'soft';
      empty.textContent = 'Nothing is selected here.';
      menu.append(empty);
    }
    menu.addEventListener('keydown', walk);
    document.body.append(menu);
    menu.style.left = `${Math.max(4, Math.min(box.left + at[0], innerWidth - menu.offsetWidth - 4))}px`;
    menu.style.top = `${Math.max(4, Math.min(box.top + at[1], innerHeight - menu.offsetHeight - 4))}px`;
    const first = menu.querySelector('button');
    if (first) first.focus({ preventScroll: true });
    else stage.focus({ preventScroll: true });
  }

  /** @param {KeyboardEvent} event */
  function walk(event) {
    const items = [...document.querySelectorAll('#plan-menu button')];
    const at = items.indexOf(/** @type {Element} */ (document.activeElement));
    if (event.key === 'Escape' || event.key === 'Tab') {
      close();
      stage.focus({ preventScroll: true });
    } else if (event.key === 'ArrowDown' || event.key === 'ArrowUp') {
      const to = items[(at + (event.key === 'ArrowDown' ? 1 : -1) + items.length) % items.length];
      if (to instanceof HTMLElement) to.focus();
    } else return;
    event.preventDefault();
    event.stopPropagation();
  }

  return open;
}

export function close() {
  document.getElementById('plan-menu')?.remove();
}
