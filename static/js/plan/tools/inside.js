// @ts-check
// Makes a room of what the walls around a click enclose.

/** @param {import('../board.js').Board} board @param {(at: import('../model.js').Point) => void} finish @returns {import('../board.js').Tool} */
export function insideTool(board, finish) {
  return {
    name: 'inside',
    cursor: 'crosshair',
    enter: () => board.say('Click between the walls of a room'),
    down: (pen) => finish(pen.p),
  };
}
