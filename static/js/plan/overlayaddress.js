// @ts-check
// The overlay's choice in the page's address, so that a reload keeps it and links
// lead to it.
import * as Model from './model.js';

/** @typedef {import('./overlay.js').Overlay} Overlay */

const names = ['overlay', 'view', 'motion', 'code', 'of', 'room'];

/** Writes the choice into the address. @param {Overlay} overlay */
export function keep(overlay) {
  const url = new URL(location.href);
  for (const name of names) url.searchParams.delete(name);
  if (overlay.show !== '') {
    url.searchParams.set('overlay', overlay.show);
    if (overlay.show === 'daylight') url.searchParams.set('view', overlay.view);
    if (overlay.show === 'daylight' && overlay.view === 'zones' && overlay.code !== '') url.searchParams.set('code', overlay.code);
    if (overlay.show === 'sight') url.searchParams.set('motion', overlay.motion);
    const room = overlay.scope === 'room' ? overlay.roomShown() : '';
    if (room !== '') url.searchParams.set('room', room);
    else if (overlay.scope === 'storey') url.searchParams.set('of', 'storey');
  }
  if (url.href !== location.href) history.replaceState(history.state, '', url);
}

/** Shows what the address says, once the page has its size. @param {Overlay} overlay */
export function restore(overlay) {
  const query = new URLSearchParams(location.search);
  /** @param {string} name @param {string[]} known */
  const of = (name, known) => known.find((one) => one === query.get(name)) ?? known[0];
  const show = of('overlay', ['', 'margin', 'sight', 'daylight']);
  if (show === '') return;
  overlay.show = show;
  overlay.view = of('view', ['zones', 'factor', 'sensors']);
  overlay.motion = of('motion', ['walk', 'small']);
  overlay.scope = of('of', ['room', 'storey']);
  overlay.code = query.get('code') ?? '';
  const room = overlay.board.model.rooms.find((one) => one.id === query.get('room'));
  if (room) overlay.room = room.id;
  // The page fits its view once it knows its size, which is before it is first painted.
  requestAnimationFrame(() => requestAnimationFrame(() => {
    const outline = room ? Model.room(overlay.board.model, room.key)?.outline[0] ?? [] : [];
    if (room && outline.length > 0) {
      const [xs, ys] = [outline.map((p) => p[0]), outline.map((p) => p[1])];
      overlay.board.view.fit([Math.min(...xs) - 1, Math.min(...ys) - 1, Math.max(...xs) + 1, Math.max(...ys) + 1]);
    }
    overlay.choose();
    overlay.moved();
  }));
}
