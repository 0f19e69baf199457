// @ts-check
// Tables that are edited in place like a spreadsheet. The server draws the
// cells; this module moves between them, edits them, selects and pastes blocks,
// and sends what changed as one edit. Markup: table[data-grid] with .cell
// elements that carry data-path, inside an element with data-edits.

/** @typedef {HTMLTableCellElement} Cell */

/** where the person is, by grid id and cell position, to find it again after a part is renewed
 * @type {{grid: string, row: number, column: number} | null} */
let place = null;
/** @type {Cell | null} other corner of the selected block */
let anchor = null;
let leaving = false; // Escape was pressed: the next Tab leaves the table

/** @param {EventTarget | null} target @returns {Cell | null} */
const cellOf = (target) => (target instanceof Element ? /** @type {Cell | null} */ (target.closest('[data-grid] .cell')) : null);

/** @param {Element} cell */
const gridOf = (cell) => /** @type {HTMLTableElement} */ (cell.closest('[data-grid]'));

/** @param {HTMLTableElement} grid @returns {HTMLTableRowElement[]} */
const rowsOf = (grid) => [...grid.tBodies[0].rows].filter((row) => row.querySelector('.cell'));

/** @param {HTMLTableRowElement} row @returns {Cell[]} */
const cellsOf = (row) => /** @type {Cell[]} */ ([...row.cells].filter((cell) => cell.classList.contains('cell')));

/** @param {Cell} cell */
function position(cell) {
  const grid = gridOf(cell);
  const row = /** @type {HTMLTableRowElement} */ (cell.parentElement);
  return { grid, row: rowsOf(grid).indexOf(row), column: cellsOf(row).indexOf(cell) };
}

/** @param {HTMLTableElement} grid @param {number} row @param {number} column @returns {Cell | null} */
function at(grid, row, column) {
  const line = rowsOf(grid)[row];
  return line ? cellsOf(line)[column] ?? null : null;
}

/** One cell of each grid takes part in the page's Tab order. @param {HTMLTableElement} grid @param {Cell | null} cell */
function rove(grid, cell) {
  for (const old of grid.querySelectorAll('.cell[tabindex="0"]')) old.setAttribute('tabindex', '-1');
  (cell ?? at(grid, 0, 0))?.setAttribute('tabindex', '0');
}

/** @param {Cell | null} cell @param {boolean} [extend] */
function go(cell, extend = false) {
  if (!cell) return;
  const grid = gridOf(cell);
  const p = position(cell);
  place = { grid: grid.id, row: p.row, column: p.column };
  rove(grid, cell);
  if (!extend) anchor = cell;
  cell.focus({ preventScroll: true });
  mark(grid);
  cell.scrollIntoView({ block: 'nearest', inline: 'nearest' });
}

/** The selected block: from the anchor to the focused cell. @param {HTMLTableElement} grid @returns {Cell[][]} */
function block(grid) {
  const focus = cellOf(document.activeElement);
  if (!focus || gridOf(focus) !== grid) return [];
  const a = position(focus);
  const b = anchor?.isConnected && gridOf(anchor) === grid ? position(anchor) : a;
  const out = [];
  for (let r = Math.min(a.row, b.row); r <= Math.max(a.row, b.row); r++) {
    const line = [];
    for (let c = Math.min(a.column, b.column); c <= Math.max(a.column, b.column); c++) {
      const cell = at(grid, r, c);
      if (cell) line.push(cell);
    }
    out.push(line);
  }
  return out;
}

/** @param {HTMLTableElement} grid */
function mark(grid) {
  for (const old of document.querySelectorAll('.cell[aria-selected="true"]')) old.removeAttribute('aria-selected');
  const cells = block(grid).flat();
  if (cells.length > 1) for (const cell of cells) cell.setAttribute('aria-selected', 'true');
}

// ---- editing one cell ----

/** @param {Cell} cell @returns {string[] | null} values that may be chosen */
function choices(cell) {
  const head = gridOf(cell).tHead?.rows[0].cells[cell.cellIndex];
  const list = document.getElementById(head?.dataset.choices ?? '');
  return list ? [...list.querySelectorAll('option')].map((option) => option.value) : null;
}

/** @param {Cell} cell */
const textOf = (cell) => (cell.classList.contains('from-typical') ? '' : cell.textContent ?? '').trim();

/** @param {Cell} cell @param {string} [typed] what to start from instead of the cell's own text; the key
 * that opened the field types itself into it */
function edit(cell, typed) {
  if (!cell.dataset.path || cell.querySelector('input, select')) return;
  const values = choices(cell);
  const field = values ? pick(values, textOf(cell)) : document.createElement('input');
  if (field instanceof HTMLInputElement) {
    field.value = typed ?? textOf(cell);
    field.autocomplete = 'off';
  }
  const head = gridOf(cell).tHead?.rows[0].cells[cell.cellIndex];
  const row = cell.parentElement?.querySelector('th');
  field.setAttribute('aria-label', `${head?.textContent?.trim() ?? ''}, ${row?.textContent?.trim() ?? ''}`);
  cell.dataset.was = cell.textContent ?? '';
  cell.setAttribute('hx-morph-skip', '');
  cell.append(field);
  field.focus();
  if (field instanceof HTMLInputElement && typed === undefined) field.select();
}

/** @param {string[]} values @param {string} current */
function pick(values, current) {
  const select = document.createElement('select');
  for (const value of ['', ...values]) select.add(new Option(value, value, false, value === current));
  return select;
}

/** Ends editing. @param {Cell} cell @param {boolean} keep */
function close(cell, keep) {
  const field = /** @type {HTMLInputElement | HTMLSelectElement | null} */ (cell.querySelector('input, select'));
  if (!field || field.dataset.closing) return;
  field.dataset.closing = '1'; // removing it takes the focus away, which closes again
  const text = field.value;
  const before = textOf(cell);
  cell.removeAttribute('hx-morph-skip');
  field.remove();
  if (keep && text !== before && text !== cell.dataset.refused) send([[cell, text]]);
  delete cell.dataset.refused;
}

/** @param {[Cell, string][]} pairs */
function send(pairs) {
  const edits = pairs.filter(([cell]) => cell.dataset.path).map(([cell, text]) => [cell.dataset.path, text]);
  if (edits.length === 0) return;
  const bench = pairs[0][0].closest('[data-edits]');
  for (const [cell, text] of pairs) {
    if (!cell.dataset.path) continue;
    cell.classList.remove('cell-error', 'from-typical');
    cell.classList.add('saving');
    cell.dataset.shown = cell.textContent ?? '';
    cell.textContent = text;
  }
  const source = document.getElementById('version') ?? bench; // the bench would send every field that is in it
  window.htmx.ajax('POST', bench?.getAttribute('data-edits') ?? '', {
    source: /** @type {Element} */ (source), target: /** @type {Element} */ (bench), swap: 'none', values: { edits: JSON.stringify(edits) },
  });
}

/** What was sent and not stored goes back to what it was. */
function restore() {
  for (const cell of /** @type {NodeListOf<Cell>} */ (document.querySelectorAll('.cell.saving'))) {
    cell.classList.remove('saving');
    if (cell.dataset.shown !== undefined) cell.textContent = cell.dataset.shown;
    delete cell.dataset.shown;
  }
}

// ---- listening ----

document.addEventListener('focusin', (event) => {
  const cell = cellOf(event.target);
  if (!cell || event.target !== cell) return;
  const p = position(cell);
  place = { grid: p.grid.id, row: p.row, column: p.column };
  rove(p.grid, cell);
  leaving = false;
});

document.addEventListener('focusout', (event) => {
  const cell = cellOf(event.target);
  if (cell && event.target !== cell) close(cell, true);
});

document.addEventListener('mousedown', (event) => {
  const cell = cellOf(event.target);
  if (!cell || event.target !== cell || event.button !== 0) return;
  event.preventDefault();
  go(cell, event.shiftKey);
});

document.addEventListener('dblclick', (event) => {
  const cell = cellOf(event.target);
  if (cell && event.target === cell) edit(cell);
});

// A second tap on the focused cell edits it where there is no mouse.
document.addEventListener('pointerup', (event) => {
  const cell = cellOf(event.target);
  if (event.pointerType !== 'mouse' && cell && cell === document.activeElement && cell.dataset.tapped) edit(cell);
  if (cell) {
    cell.dataset.tapped = '1';
    setTimeout(() => delete cell.dataset.tapped, 1500);
  }
});

document.addEventListener('keydown', (event) => {
  const cell = cellOf(event.target);
  if (!cell) {
    const control = event.target instanceof HTMLElement && event.target.closest('[data-grid] tbody') ? event.target : null;
    if (control && event.key === 'Escape') leaving = true;
    if (control && event.key === 'Tab' && !event.altKey && !event.ctrlKey) stepFrom(event, control);
    return;
  }
  if (event.target === cell) move(event, cell);
  else typing(event, cell);
});

/** @param {KeyboardEvent} event @param {Cell} cell */
function typing(event, cell) {
  if (event.key === 'Escape') {
    event.preventDefault();
    event.stopPropagation();
    close(cell, false);
    go(cell);
    return;
  }
  if (event.key !== 'Enter' && event.key !== 'Tab') return;
  event.preventDefault();
  const p = position(cell);
  close(cell, true);
  if (event.key === 'Enter') go(at(p.grid, p.row + (event.shiftKey ? -1 : 1), p.column) ?? at(p.grid, p.row, p.column));
  else go(beside(p.grid, p.row, p.column, event.shiftKey ? -1 : 1) ?? at(p.grid, p.row, p.column));
}

/** @param {HTMLTableElement} grid @param {number} row @param {number} column @param {number} step */
function beside(grid, row, column, step) {
  const next = at(grid, row, column + step);
  if (next) return next;
  const line = rowsOf(grid)[row + step];
  return line ? at(grid, row + step, step > 0 ? 0 : cellsOf(line).length - 1) : null;
}

/** Where Tab stops in a grid while no cell is edited: its cells and, so that nobody needs a mouse for them,
 * the links and buttons of its rows. @param {HTMLTableElement} grid @returns {HTMLElement[]} */
const stopsOf = (grid) => [.../** @type {NodeListOf<HTMLElement>} */ (grid.tBodies[0].querySelectorAll('.cell, tr a[href], tr button:enabled, tr input:enabled, tr select:enabled'))]
  .filter((stop) => !stop.parentElement?.closest('.cell') && stop.checkVisibility({ visibilityProperty: true }));

/** Goes to the stop before or behind; at the end of the grid the browser leaves it.
 * @param {KeyboardEvent} event @param {HTMLElement} from */
function stepFrom(event, from) {
  const stops = stopsOf(gridOf(from));
  if (!stops.includes(from)) return;
  if (leaving) {
    leaving = false;
    stops.at(event.shiftKey ? 0 : -1)?.focus({ preventScroll: true }); // from there the browser goes on
    return;
  }
  const next = stops[stops.indexOf(from) + (event.shiftKey ? -1 : 1)];
  if (!next) return;
  event.preventDefault();
  const cell = cellOf(next);
  if (cell) go(cell);
  else next.focus();
}

/** @param {KeyboardEvent} event @param {Cell} cell */
function move(event, cell) {
  const p = position(cell);
  const mod = event.ctrlKey || event.metaKey;
  const lastRow = rowsOf(p.grid).length - 1;
  const lastColumn = cellsOf(/** @type {HTMLTableRowElement} */ (cell.parentElement)).length - 1;
  /** @type {Record<string, () => Cell | null>} */
  const steps = {
    ArrowUp: () => at(p.grid, mod ? 0 : p.row - 1, p.column),
    ArrowDown: () => at(p.grid, mod ? lastRow : p.row + 1, p.column),
    ArrowLeft: () => at(p.grid, p.row, mod ? 0 : p.column - 1),
    ArrowRight: () => at(p.grid, p.row, mod ? lastColumn : p.column + 1),
    Home: () => at(p.grid, mod ? 0 : p.row, 0),
    End: () => at(p.grid, mod ? lastRow : p.row, lastColumn),
  };
  if (event.altKey) return;
  if (steps[event.key]) {
    event.preventDefault();
    go(steps[event.key](), event.shiftKey);
  } else if (event.key === 'Tab') {
    stepFrom(event, cell);
  } else if (event.key === 'Escape') {
    leaving = true;
    anchor = cell;
    mark(p.grid);
  } else if (event.key === 'Enter' || event.key === 'F2') {
    event.preventDefault();
    edit(cell);
  } else if (event.key === 'Delete' || event.key === 'Backspace') {
    event.preventDefault();
    send(block(p.grid).flat().map((one) => [one, '']));
  } else if (mod && event.key.toLowerCase() === 'd') {
    event.preventDefault();
    fill(p.grid);
  } else if (!mod && event.key.length === 1 && event.key !== '?') {
    if (event.key === ' ') event.preventDefault();
    edit(cell, event.key === ' ' ? undefined : '');
  }
}

/** Fills the block from its first row. @param {HTMLTableElement} grid */
function fill(grid) {
  const [first, ...rest] = block(grid);
  if (!first || rest.length === 0) return;
  send(rest.flatMap((line) => line.map((cell, i) => /** @type {[Cell, string]} */ ([cell, textOf(first[i])]))));
}

document.addEventListener('copy', (event) => {
  const cell = cellOf(document.activeElement);
  if (!cell || cell !== document.activeElement) return;
  event.preventDefault();
  const lines = block(gridOf(cell)).map((line) => line.map(textOf).join('\t'));
  event.clipboardData?.setData('text/plain', lines.join('\n'));
});

document.addEventListener('paste', (event) => {
  const cell = cellOf(document.activeElement);
  if (!cell || cell !== document.activeElement) return;
  event.preventDefault();
  const text = event.clipboardData?.getData('text/plain') ?? '';
  const lines = text.replace(/\r\n?/g, '\n').replace(/\n$/, '').split('\n').map((line) => line.split('\t'));
  const grid = gridOf(cell);
  const selected = block(grid);
  /** @type {[Cell, string][]} */
  const pairs = [];
  if (lines.length === 1 && lines[0].length === 1) {
    for (const one of selected.flat()) pairs.push([one, lines[0][0]]);
  } else {
    const start = position(selected[0][0]);
    lines.forEach((line, r) => line.forEach((value, c) => {
      const target = at(grid, start.row + r, start.column + c);
      if (target) pairs.push([target, value.trim()]);
    }));
  }
  send(pairs);
});

// A refused cell keeps what was typed, with the reason beside it.
document.addEventListener('cell-refused', (event) => {
  const { path, text, message } = /** @type {CustomEvent} */ (event).detail;
  restore();
  const fact = /** @type {HTMLElement | null} */ (document.querySelector(`[data-fact="${CSS.escape(path)}"]`));
  fact?.setAttribute('aria-invalid', 'true');
  const cell = [.../** @type {NodeListOf<Cell>} */ (document.querySelectorAll('[data-grid] .cell'))].find((one) => one.dataset.path === path);
  if (!cell) return;
  cell.classList.add('cell-error');
  cell.title = message;
  go(cell);
  edit(cell, text);
  cell.dataset.refused = text; // leaving it as it is does not send it again
});

document.addEventListener('htmx:error', restore);
document.addEventListener('htmx:response:error', (event) => {
  const status = /** @type {CustomEvent} */ (event).detail.ctx.response?.status;
  if (status !== 422) restore();
});

// After a part was renewed: the person is where they were.
document.addEventListener('htmx:after:settle', () => {
  for (const grid of /** @type {NodeListOf<HTMLTableElement>} */ (document.querySelectorAll('[data-grid]'))) {
    const here = place?.grid === grid.id ? at(grid, place.row, place.column) : null;
    rove(grid, here);
    if (here && document.activeElement === document.body) here.focus({ preventScroll: true });
  }
});

for (const grid of /** @type {NodeListOf<HTMLTableElement>} */ (document.querySelectorAll('[data-grid]'))) rove(grid, null);
