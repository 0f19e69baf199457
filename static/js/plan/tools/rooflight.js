// @ts-check
// Draws a rooflight as a rectangle; the next one may follow.
import { send } from '../send.js';
import { rectangleTool } from './rectangle.js';

/** @param {import('../board.js').Board} board @returns {import('../board.js').Tool} */
export function rooflightTool(board) {
  return rectangleTool(board, ([a, , b]) => {
    board.selectNew = true;
    send({ do: 'rooflight', at: [a, b] });
  }, { name: 'rooflight', enter: 'Drag from one corner of the rooflight to the opposite one, or click one and type width and length', next: 'length' });
}
