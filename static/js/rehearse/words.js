// @ts-check
// What a load's output is called: color and bar never stand alone.
import { levelAt, percent, valueAt } from './tracks.js';

/** @typedef {import('./tracks.js').Track} Track @typedef {import('./model.js').Load} Load */

/** @param {Load} load @param {Track | undefined} track @param {number} t */
export function shown(load, track, t) {
  const level = track ? levelAt(track.points, t) : 0;
  const special = track ? valueAt(track.words, t, '') : '';
  let word = 'off';
  if (level >= 99.95) word = load.receptacle ? 'live' : 'on';
  else if (level > 0.05) word = 'dimmed';
  else if (load.receptacle) word = 'dead';
  return { level, word: special || word, special };
}

/** "L1 goes to 80 %" @param {Load} load @param {number} level */
export function going(load, level) {
  if (load.receptacle) return `${load.tag} ${level > 0 ? 'goes live' : 'goes dead'}`;
  if (level <= 0.05) return `${load.tag} goes off`;
  return load.switched ? `${load.tag} goes on` : `${load.tag} goes to ${percent(level)}`;
}
