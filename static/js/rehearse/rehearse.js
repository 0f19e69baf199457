// @ts-check
// The rehearsal: wires the clock, what a person does, and what is shown of the
// loads. The server says what follows; this page plays it.
import * as charts from './charts.js';
import { clockText, dateAt, dayText, span, untilClock } from './clock.js';
import { listen, showState } from './inputs.js';
import { byId, element, read } from './model.js';
import './prove.js';
import { longest, Run } from './run.js';
import { say } from './say.js';
import * as scene from './scene.js';
import { showNext, Timeline } from './timeline.js';
import { percent, valueAt } from './tracks.js';
import { going, shown } from './words.js';

/** @typedef {import('./tracks.js').Track} Track @typedef {import('./run.js').Given} Given */

const chartPause = 80; // ms between two drawings of the charts
const calmPause = 250; // ms between two pictures where motion is to be reduced

const root = byId('rehearsal');
const model = read(root.getAttribute('data-model'));
const calm = matchMedia('(prefers-reduced-motion: reduce)');
const timeline = new Timeline();
const loads = new Map(model.loads.map((load) => [load.id, load]));
const rows = new Map([...document.querySelectorAll('[data-load-row]')].map((row) => [row.getAttribute('data-load-row') ?? '', row]));
const run = new Run(root.getAttribute('data-play') ?? '', changed);
/** @type {Map<string, Track>} */
let tracks = new Map();
let window_ = 0; // seconds that the charts show; 0: all
let chartsDrawn = 0;
let stale = true; // the picture does not show the newest answer

/** @param {string} refused */
function changed(refused) {
  const notice = byId('rehearse-refused');
  notice.hidden = !refused;
  notice.textContent = refused;
  if (refused) say(refused);
  tracks = new Map(run.answer.tracks.map((track) => [track.load, track]));
  stale = true;
  reported = -1;
  showFaults();
  frame(performance.now());
}

let reported = -1; // how many steps the inputs show

/** The inputs show what they reported last, also while a loaded story plays. */
function showReported() {
  const past = run.steps.filter((step) => (step.at_s ?? 0) <= run.now + 1e-6);
  if (past.length === reported) return;
  reported = past.length;
  scene.mark(model, showState(past).last);
}

function showFaults() {
  const list = byId('faults');
  list.hidden = run.answer.faults.length === 0;
  list.querySelector('ul')?.replaceChildren(...run.answer.faults.map((text) => element('li', text)));
}

// ---- what is shown at a moment ----

let seen = performance.now();
let pictured = 0;

/** @param {number} time */
function loop(time) {
  const passed = Math.min(1, (time - seen) / 1000);
  seen = time;
  const moved = run.tick(passed);
  if ((moved || stale) && (!calm.matches || time - pictured >= calmPause)) frame(time);
  requestAnimationFrame(loop);
}

/** @param {number} time */
function frame(time) {
  pictured = time;
  stale = false;
  showClock();
  showReported();
  for (const load of model.loads) showLoad(load.id);
  for (const entry of timeline.show(run.answer, run.now, model.loads)) {
    const changes = entry.levels.map(([id, level]) => { const load = loads.get(id); return load ? going(load, level) : ''; }).filter(Boolean);
    if (run.now - entry.at < 2 * Math.max(1, run.speed)) say([...(entry.own ? [] : [entry.what]), ...changes].join(', '));
  }
  const next = showNext(run.answer, run.now, model.loads);
  /** @type {HTMLButtonElement} */ (byId('go-next')).disabled = !next;
  showWhy();
  if (time - chartsDrawn > chartPause || !run.playing) {
    chartsDrawn = time;
    drawCharts();
  }
}

function showClock() {
  const date = dateAt(run.answer.wall, run.now);
  text('clock-day', dayText(date));
  text('clock-time', clockText(date));
  text('clock-since', `${span(run.now)} since the start`);
  text('room-state', valueAt(run.answer.states, run.now, ''));
  text('play', run.playing ? 'Pause' : 'Run');
  /** @type {HTMLButtonElement} */ (byId('step-back')).disabled = !run.canStepBack;
  /** @type {HTMLSelectElement} */ (byId('speed')).value = String(run.speed);
}

/** @param {string} id @param {string} words */
function text(id, words) {
  const place = byId(id);
  if (place.textContent !== words) place.textContent = words;
}

/** @param {string} id */
function showLoad(id) {
  const load = loads.get(id);
  const row = rows.get(id);
  if (!load || !row) return;
  const now = shown(load, tracks.get(id), run.now);
  const number = load.receptacle ? (now.level > 0 ? 'live' : 'dead') : percent(now.level);
  const level = /** @type {HTMLElement} */ (row.querySelector('.level'));
  if (level.textContent !== number) level.textContent = number;
  const word = /** @type {HTMLElement} */ (row.querySelector('.word'));
  const said = load.receptacle && !now.special ? 'receptacles' : now.word;
  if (word.textContent !== said) word.textContent = said;
  row.classList.toggle('special', now.special !== '');
  /** @type {HTMLElement} */ (row.querySelector('.bar > span')).style.width = `${now.level.toFixed(1)}%`;
  row.querySelector('button[data-why]')?.setAttribute('aria-pressed', String(run.why === id));
  scene.light(id, now.level, now.level > 0.05 ? number : '');
}

function showWhy() {
  const load = loads.get(run.why);
  byId('why').hidden = !load;
  if (!load) return;
  const { level } = shown(load, tracks.get(load.id), run.now);
  const state = load.receptacle ? (level > 0 ? 'live' : 'dead') : level <= 0.05 ? 'off' : `at ${percent(level)}`;
  text('why-title', `Why is ${load.tag} ${state}?`);
  const lines = valueAt(run.answer.why, run.now, /** @type {string[]} */ ([]));
  const list = byId('why-lines');
  const key = lines.join('\n');
  if (list.dataset.shown === key) return;
  list.dataset.shown = key;
  list.replaceChildren(...lines.map((line) => element('li', line)));
}

function drawCharts() {
  const axis = document.getElementById('axis');
  if (!axis) return;
  const width = Math.round(axis.getBoundingClientRect().width);
  if (width < 20) return;
  const range = charts.stretch(run.now, window_);
  for (const [id, row] of rows) {
    const chart = row.querySelector('svg.chart');
    if (chart) charts.strip(/** @type {SVGElement} */ (chart), tracks.get(id)?.points ?? [], run.now, range, width);
  }
  charts.scale(/** @type {SVGElement} */ (/** @type {unknown} */ (axis)), run.answer, run.now, range, width);
}

// ---- the clock's controls ----

const forward = {
  minute: () => run.go(60),
  minutes: () => run.go(600),
  next: () => { const { next } = run; return next ? run.go(next.at - run.now) : Promise.resolve(); },
  play: () => {
    run.playing = !run.playing && run.now < longest;
    run.stopped = !run.playing;
    stale = true;
  },
  back: () => run.back(),
  replay: () => run.restart(run.given, run.steps, 0),
  clear: () => {
    run.playing = run.stopped = false;
    return run.restart(run.given);
  },
};

/** @type {Record<string, keyof typeof forward>} */
const buttons = { play: 'play', 'go-minute': 'minute', 'go-minutes': 'minutes', 'go-next': 'next', 'step-back': 'back', replay: 'replay', clear: 'clear' };
for (const [id, name] of Object.entries(buttons)) byId(id).addEventListener('click', () => void forward[name]());

byId('speed').addEventListener('change', (event) => {
  run.speed = Number(/** @type {HTMLSelectElement} */ (event.target).value);
  run.keep();
});
byId('chart-window').addEventListener('change', (event) => {
  window_ = Number(/** @type {HTMLSelectElement} */ (event.target).value);
  drawCharts();
});

byId('go-form').addEventListener('submit', (event) => {
  event.preventDefault();
  const field = /** @type {HTMLInputElement} */ (byId('go-clock'));
  const seconds = untilClock(dateAt(run.answer.wall, run.now), field.value);
  if (seconds !== null) void run.go(seconds);
});

byId('given-form').addEventListener('submit', (event) => {
  event.preventDefault();
  const form = new FormData(/** @type {HTMLFormElement} */ (event.target));
  const value = (/** @type {string} */ name) => String(form.get(name) ?? '');
  byId('given').removeAttribute('open');
  void run.restart({ day: value('day'), start: value('start'), mode: value('mode') }, run.steps, 0);
});

function fillGiven() {
  const form = /** @type {HTMLFormElement} */ (byId('given-form'));
  for (const [name, value] of Object.entries(run.given)) {
    const field = form.elements.namedItem(name);
    if (field instanceof HTMLInputElement || field instanceof HTMLSelectElement) field.value = value;
  }
}

/** @type {Record<string, keyof typeof forward>} */
const keys = { p: 'play', n: 'next', m: 'minute', M: 'minutes', b: 'back' };
document.addEventListener('keydown', (event) => {
  const target = /** @type {Element} */ (event.target);
  if (event.key === 'Escape' && scene.closeCard()) return;
  if (event.ctrlKey || event.metaKey || event.altKey || target.closest('input, select, textarea, dialog, [data-grid]')) return;
  const name = keys[event.key];
  if (!name) return;
  event.preventDefault();
  void forward[name]();
});

// ---- causes, cards, scenarios ----

document.addEventListener('click', (event) => {
  const target = /** @type {Element} */ (event.target);
  const asked = target.closest('button[data-why]');
  if (asked) {
    const id = asked.getAttribute('data-why') ?? '';
    run.why = run.why === id ? '' : id;
    void run.ask();
  }
  const play = target.closest('[data-play-steps]');
  if (play) playSteps(play.getAttribute('data-play-steps') ?? '{}');
  if (target.closest('[data-opens="#save-scenario"]')) fillSave();
  if (target.closest('#hand [data-close]')) scene.closeCard();
  else if (!target.closest('#hand') && !target.closest('.operable')) scene.closeCard();
});

/** Plays steps from elsewhere on the page: a scenario, or how a finding comes about. @param {string} json */
function playSteps(json) {
  const { given, steps } = /** @type {{given: Given, steps: import('./tracks.js').Step[]}} */ (JSON.parse(json));
  run.playing = false;
  void run.restart(given, steps, 0).then(() => {
    fillGiven();
    root.scrollIntoView({ block: 'start' });
    byId('play').focus({ preventScroll: true });
    say('Loaded into the rehearsal: press Run, or go to what happens next');
  });
}

/** The steps go with the form that saves them. */
function fillSave() {
  run.playing = false;
  stale = true;
  const dialog = byId('save-scenario');
  /** @type {HTMLInputElement} */ (dialog.querySelector('input[name=run]')).value = JSON.stringify(run.sent);
  const lit = model.loads.map((load) => `${load.tag} ${load.receptacle ? (shown(load, tracks.get(load.id), run.now).level > 0 ? 'live' : 'dead') : percent(shown(load, tracks.get(load.id), run.now).level)}`);
  const done = run.steps.filter((step) => (step.at_s ?? 0) <= run.now + 1e-6).length;
  const summary = dialog.querySelector('[data-summary]');
  if (summary) summary.textContent = `${done} ${done === 1 ? 'step' : 'steps'}, then after ${span(run.now)}: ${lit.join(', ')}.`;
}

// The room was designed on meanwhile: what is on this page is no longer all of it.
document.addEventListener('htmx:after:settle', () => {
  const newest = document.getElementById('design-now')?.dataset.design;
  byId('design-changed').hidden = newest === undefined || newest === root.dataset.design;
  if (newest !== undefined && newest !== root.dataset.design && root.dataset.told !== newest) {
    root.dataset.told = newest;
    void run.ask(); // the sequence is the new one; the buttons come with the page
  }
});
byId('take-design').addEventListener('click', () => location.reload());

// A finding elsewhere leads to a scenario here.
const named = location.hash.startsWith('#scenario-') ? document.getElementById(decodeURIComponent(location.hash.slice(1))) : null;
if (named instanceof HTMLDetailsElement) {
  named.open = true;
  named.scrollIntoView({ block: 'center' });
}

new ResizeObserver(drawCharts).observe(byId('loads-shown'));
listen(root, run);
scene.prepare(model, scene.openCard);
fillGiven();
void run.ask();
requestAnimationFrame(loop);
window.addEventListener('pagehide', () => run.keep());
