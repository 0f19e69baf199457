// @ts-check
// Lengths as people of the project write them. Imports no DOM.

const foot = 0.3048; // meters, exactly
const inch = 0.0254;

/** "12' 6 1/4\"" or "3.81 m" @param {number} meters @param {'US' | 'SI'} units */
export function show(meters, units) {
  if (units !== 'US') return `${trim(meters, 3)} m`;
  const sign = meters < 0 ? '-' : '';
  const inches = Math.round((Math.abs(meters) / inch) * 4) / 4;
  const feet = Math.floor(inches / 12);
  const rest = inches - feet * 12;
  if (feet === 0) return `${sign}${trim(rest, 2)} in`;
  return rest === 0 ? `${sign}${feet} ft` : `${sign}${feet} ft ${trim(rest, 2)} in`;
}

/** @param {number} squareMeters @param {'US' | 'SI'} units */
export const showArea = (squareMeters, units) => (units === 'US' ? `${trim(squareMeters / foot / foot, 0)} sq ft` : `${trim(squareMeters, 1)} m2`);

/** @param {number} v @param {number} decimals */
export const trim = (v, decimals) => String(Number(v.toFixed(decimals)));

/** Reads 12' 6", 12'6, 12 ft 6 in, 150 in, 3.81m, 3810 mm, 381 cm; a bare number is feet in a US project, meters
 * otherwise. @param {string} text @param {'US' | 'SI'} units @returns {number | null} meters, null for no length */
export function parse(text, units) {
  const t = text.trim().toLowerCase().replace(',', '.').replace(/[\u2019\u2032]/g, "'").replace(/[\u201d\u2033]/g, '"');
  const metric = /^(\d*\.?\d+|\d+\.)\s*(mm|cm|m)$/.exec(t);
  if (metric) return Number(metric[1]) * (metric[2] === 'mm' ? 0.001 : metric[2] === 'cm' ? 0.01 : 1);
  const bare = /^(\d*\.?\d+|\d+\.)$/.exec(t);
  if (bare) return Number(bare[1]) * (units === 'US' ? foot : 1);
  const us = /^(?:(\d*\.?\d+|\d+\.)\s*(?:'|ft|feet|foot)\s*-?\s*)?(?:(\d*\.?\d+|\d+\.)\s*(?:"|in|inches|inch)?)?$/.exec(t);
  if (!us || (us[1] === undefined && us[2] === undefined)) return null;
  return Number(us[1] ?? 0) * foot + Number(us[2] ?? 0) * inch;
}

/** The grid's step: fine enough to be of use, coarse enough that lines stay apart.
 * @param {number} scale pixels a meter @param {'US' | 'SI'} units @returns {number} meters */
export function gridStep(scale, units) {
  const steps = units === 'US' ? [inch, 3 * inch, 6 * inch, foot, 2 * foot, 5 * foot, 10 * foot, 50 * foot, 100 * foot] : [0.01, 0.05, 0.1, 0.5, 1, 2, 5, 10, 50, 100];
  return steps.find((step) => step * scale >= 8) ?? steps[steps.length - 1];
}

/** A round length of about a number of pixels, for a scale bar. @param {number} scale @param {number} pixels @param {'US' | 'SI'} units */
export function barLength(scale, pixels, units) {
  const unit = units === 'US' ? foot : 1;
  const most = pixels / scale / unit;
  const power = 10 ** Math.floor(Math.log10(most));
  const step = [5, 2, 1].find((k) => k * power <= most) ?? 1;
  return step * power * unit;
}
