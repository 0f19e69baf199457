// @ts-check
// Explores all states on request, says so once it takes a while, and can be
// told to stop waiting.
import { byId } from './model.js';

const patience = 500; // ms before it says that it is at work

/** @type {AbortController | null} */
let asking = null;
let shownOf = ''; // the design that the proof shown is about

const section = byId('sec-prove');

/** @param {boolean} on */
function busy(on) {
  byId('proving').hidden = byId('prove-cancel').hidden = !on;
}

const designNow = () => document.getElementById('design-now')?.dataset.design ?? '';

async function explore() {
  const here = asking = new AbortController();
  const timer = setTimeout(() => busy(true), patience);
  const design = designNow();
  try {
    const response = await fetch(section.dataset.prove ?? '', { method: 'POST', headers: { 'HX-Request': 'true' }, signal: here.signal });
    if (!response.ok) throw new Error(String(response.status));
    byId('proof').innerHTML = await response.text(); // escaped by the server
    shownOf = design;
    byId('proof-old').hidden = true;
  } catch {
    if (!here.signal.aborted) byId('proof').textContent = 'Exploring did not work: reload the page and try again.';
  } finally {
    clearTimeout(timer);
    busy(false);
    asking = null;
  }
}

byId('prove-start').addEventListener('click', () => { if (!asking) void explore(); });
byId('prove-cancel').addEventListener('click', () => {
  asking?.abort();
  byId('prove-start').focus();
});
document.addEventListener('htmx:after:settle', () => {
  byId('proof-old').hidden = shownOf === '' || shownOf === designNow();
});
