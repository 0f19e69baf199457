// @ts-check
// Places seats, one a click, in the room that lies there.
import * as hit from '../hit.js';
import { send } from '../send.js';

/** @param {import('../board.js').Board} board @returns {import('../board.js').Tool} */
export function seatTool(board) {
  return {
    name: 'seat',
    cursor: 'crosshair',
    enter: () => board.say('Click where people sit, one seat a click; Esc ends'),
    leave() {
      board.preview.set('gesture', []);
      board.noGuides();
    },
    move(pen) {
      const { at } = board.snapped(pen, []);
      const room = hit.roomAt(board.model, at);
      board.preview.set('gesture', [{ kind: 'mark', at, name: 'ghost', text: room ? '' : 'outside every room' }]);
    },
    down(pen) {
      const { at } = board.snapped(pen, []);
      const room = hit.roomAt(board.model, at);
      if (!room) return board.say('Not placed: a seat stands in a room, and here is none');
      send({ do: 'place seats', room: room.id, at: [at] });
    },
  };
}
