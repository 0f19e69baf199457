// @ts-check
// The storey below, faint under the open one.

/** @typedef {import('./board.js').Board} Board @typedef {import('./model.js').Point} Point @typedef {import('./preview.js').Shape} Shape */

/** @param {Board} board */
export function listen(board) {
  /** @type {Shape[] | null} */
  let shapes = null;
  document.addEventListener('change', async (event) => {
    const box = event.target;
    if (!(box instanceof HTMLInputElement) || box.id !== 'layer-below') return;
    if (box.checked && !shapes) shapes = await fetched(board, box.dataset.from ?? '');
    board.preview.set('below', box.checked ? shapes ?? [] : []);
  });
}

/** @param {Board} board @param {string} address @returns {Promise<Shape[] | null>} */
async function fetched(board, address) {
  try {
    const answer = await fetch(address);
    if (!answer.ok) throw new Error(await answer.text());
    /** @type {{rings: Point[][], walls: [Point, Point][]}} */
    const { rings, walls } = await answer.json();
    return [
      ...rings.map((points) => /** @type {const} */ ({ kind: 'line', points, closed: true, name: 'below' })),
      ...walls.map((points) => /** @type {const} */ ({ kind: 'line', points, name: 'below' })),
    ];
  } catch {
    board.say('The storey below could not be fetched: try again');
    return null;
  }
}
