// @ts-check
// A device dragged from the list beside the plan onto it: pressing its button and
// moving takes the placing tool, letting go over the plan places the device.

/** @typedef {import('./model.js').Point} Point @typedef {import('./board.js').Board} Board */

const threshold = 4; // pixels before a press is a drag

/** @param {HTMLElement} stage @param {Board} board @param {() => import('./board.js').Tool} tool */
export function listen(stage, board, tool) {
  /** @type {{button: HTMLElement, at: Point, id: number} | null} */
  let pressed = null;
  let dragging = false;

  document.addEventListener('pointerdown', (event) => {
    const button = event.target instanceof Element ? event.target.closest('button[data-place]') : null;
    pressed = button instanceof HTMLElement && event.button === 0 ? { button, at: [event.clientX, event.clientY], id: event.pointerId } : null;
    dragging = false;
  });

  document.addEventListener('pointermove', (event) => {
    if (!pressed || event.pointerId !== pressed.id) return;
    if (!dragging && Math.hypot(event.clientX - pressed.at[0], event.clientY - pressed.at[1]) < threshold) return;
    if (!dragging) pressed.button.click(); // takes the tool, as a click does
    dragging = true;
    if (over(event)) tool().move?.(pen(event));
  });

  document.addEventListener('pointerup', (event) => {
    const dragged = pressed !== null && dragging && event.pointerId === pressed.id;
    pressed = null;
    dragging = false;
    if (!dragged) return;
    if (over(event) && tool().name === 'place') tool().down?.(pen(event));
  });

  /** @param {PointerEvent} event */
  function over(event) {
    const box = stage.getBoundingClientRect();
    return event.clientX >= box.left && event.clientX <= box.right && event.clientY >= box.top && event.clientY <= box.bottom;
  }

  /** @param {PointerEvent} event @returns {import('./board.js').Pen} */
  function pen(event) {
    const box = stage.getBoundingClientRect();
    /** @type {Point} */
    const screen = [event.clientX - box.left - stage.clientLeft, event.clientY - box.top - stage.clientTop];
    const p = board.view.toPlan(screen);
    board.pen = p;
    board.pointed = true;
    return { p, screen, shift: event.shiftKey, alt: event.altKey, free: event.ctrlKey || event.metaKey, touch: event.pointerType === 'touch', pressed: true, keyed: false };
  }
}
