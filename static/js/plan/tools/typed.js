// @ts-check
// Lengths typed while drawing: digits begin one, Enter or an arrow ends it.

/** @typedef {import('../board.js').Board} Board @typedef {import('../model.js').Point} Point */

/** @type {Record<string, Point>} */
const directions = { ArrowRight: [1, 0], ArrowLeft: [-1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

/** @param {Board} board @param {(length: number, direction: Point | null) => void} done */
export function typing(board, done) {
  let text = '';
  /** @param {string} now */
  const set = (now) => {
    text = now;
    board.type(now);
  };
  return {
    clear: () => set(''),
    some: () => text !== '',
    /** @param {KeyboardEvent} event @returns {boolean} whether the key was one of a length */
    key(event) {
      if (event.ctrlKey || event.metaKey || event.altKey) return false;
      if (text === '' && !/^[\d.]$/.test(event.key)) return false;
      if (event.key === 'Backspace') set(text.slice(0, -1));
      else if (event.key === 'Enter' || directions[event.key]) {
        const length = board.parse(text);
        if (length === null || length <= 0) board.say(`"${text}" is no length: type 12' 6", 3.81m or 3810mm`);
        else {
          set('');
          done(length, directions[event.key] ?? null);
        }
      } else if (event.key.length === 1) set(text + event.key);
      else return false;
      return true;
    },
  };
}
