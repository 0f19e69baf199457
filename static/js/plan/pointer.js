// @ts-check
// Mouse, pen and fingers on the stage: pan and zoom here, all else to the tool.

/** @typedef {import('./model.js').Point} Point @typedef {import('./board.js').Board} Board @typedef {import('./board.js').Pen} Pen */

const lineHeight = 16; // pixels of a wheel that counts lines

const longPress = 500; // ms that a finger rests before the menu opens
const trembles = 10; // pixels that it may move meanwhile

/** @param {HTMLElement} stage @param {Board} board @param {() => import('./board.js').Tool} tool @param {() => void} moved @param {(at: Point) => void} menu */
export function listen(stage, board, tool, moved, menu) {
  /** @type {Map<number, Point>} fingers and buttons that are down, in pixels */
  const down = new Map();
  let panning = false;
  let drawing = false;
  let resting = 0;

  /** @param {Point} at */
  function rest(at) {
    clearTimeout(resting);
    resting = window.setTimeout(() => {
      const now = [...down.values()][0];
      if (down.size !== 1 || !now || Math.hypot(now[0] - at[0], now[1] - at[1]) > trembles) return;
      if (drawing) tool().cancel?.();
      drawing = false;
      menu(at);
    }, longPress);
  }

  /** @param {PointerEvent | WheelEvent} event @returns {Point} */
  const screen = (event) => {
    const box = stage.getBoundingClientRect();
    return [event.clientX - box.left - stage.clientLeft, event.clientY - box.top - stage.clientTop];
  };

  /** @param {PointerEvent} event @returns {Pen} */
  function pen(event) {
    const at = screen(event);
    return { p: board.view.toPlan(at), screen: at, shift: event.shiftKey, alt: event.altKey, free: event.ctrlKey || event.metaKey, touch: event.pointerType === 'touch', pressed: down.size > 0, keyed: false };
  }

  stage.addEventListener('wheel', (event) => {
    event.preventDefault();
    const unit = event.deltaMode === 1 ? lineHeight : 1;
    if (event.shiftKey) board.view.pan(-(event.deltaX + event.deltaY) * unit, 0);
    else board.view.zoom(screen(event), 2 ** ((-event.deltaY * unit) / (event.ctrlKey ? 100 : 400)));
    moved();
  }, { passive: false });

  stage.addEventListener('pointerdown', (event) => {
    if (event.target instanceof Element && event.target.closest('a, button')) return;
    if (event.button === 2) return;
    stage.setPointerCapture(event.pointerId);
    stage.focus({ preventScroll: true });
    event.preventDefault();
    const was = down.size;
    down.set(event.pointerId, screen(event));
    if (was > 0) { // a second finger: what the first began is dropped
      if (drawing) tool().cancel?.();
      drawing = false;
      panning = true;
      return;
    }
    panning = event.button === 1 || stage.hasAttribute('data-space') || tool().name === 'hand';
    drawing = !panning;
    if (drawing) tool().down?.(pen(event));
    if (drawing && event.pointerType === 'touch' && tool().name === 'select') rest(screen(event));
  });

  stage.addEventListener('pointermove', (event) => {
    const at = screen(event);
    const last = down.get(event.pointerId);
    const here = pen(event);
    const start = [...down.values()][0];
    if (resting && start && Math.hypot(at[0] - start[0], at[1] - start[1]) > trembles) {
      clearTimeout(resting);
      resting = 0;
    }
    if (panning && last) {
      if (down.size === 2) pinch(event.pointerId, last, at);
      else board.view.pan(at[0] - last[0], at[1] - last[1]);
      down.set(event.pointerId, at);
      moved();
      return;
    }
    board.pen = here.p;
    board.pointed = true;
    moved();
    if (!last || drawing) tool().move?.(here);
  });

  /** @param {number} id @param {Point} last @param {Point} at */
  function pinch(id, last, at) {
    const other = [...down].find(([one]) => one !== id)?.[1];
    if (!other) return;
    const before = Math.hypot(last[0] - other[0], last[1] - other[1]);
    const now = Math.hypot(at[0] - other[0], at[1] - other[1]);
    board.view.pan((at[0] - last[0]) / 2, (at[1] - last[1]) / 2);
    if (before > 1 && now > 1) board.view.zoom([(at[0] + other[0]) / 2, (at[1] + other[1]) / 2], now / before);
  }

  /** @param {PointerEvent} event */
  function release(event) {
    clearTimeout(resting);
    resting = 0;
    if (!down.delete(event.pointerId)) return;
    if (drawing) event.type === 'pointerup' ? tool().up?.(pen(event)) : tool().cancel?.();
    drawing = false;
    if (down.size === 0) panning = false;
  }
  stage.addEventListener('pointerup', release);
  stage.addEventListener('pointercancel', release);
}
