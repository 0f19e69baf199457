// @ts-check
// One rehearsal: what has happened so far, what time it is, and whether the
// clock runs. The server says what follows from the steps; between two answers
// the page only plays.

/** @typedef {import('./tracks.js').Step} Step @typedef {import('./tracks.js').Answer} Answer */
/** What a rehearsal is started with. @typedef {{day: string, start: string, mode: string}} Given */

export const longest = 7 * 86400; // seconds that a rehearsal may last, as a scenario's last step
const ahead = 15; // seconds of this page's time before which more of the future is fetched
const grain = 10; // steps fall on tenths of a second

/** @type {Answer} */
const nothing = { until: 0, wall: [[0, 0]], tracks: [], log: [], states: [], why: [], faults: [] };

export class Run {
  /** @type {Given} */ given = { day: '', start: '', mode: '' };
  /** @type {Step[]} */ steps = [];
  /** @type {Answer} */ answer = nothing;
  /** the load of which the causes are told */
  why = '';
  now = 0;
  speed = 1;
  playing = false;
  /** the person stopped the clock: what they do then does not start it */
  stopped = false;
  /** a held button: the clock then runs as on the wall, whatever the speed */
  holding = false;

  #address;
  #changed;
  /** @type {AbortController | null} */ #asking = null;
  #shelf = `rehearsal ${location.pathname}`;

  /** @param {string} address where the steps are played @param {(said: string) => void} changed */
  constructor(address, changed) {
    this.#address = address;
    this.#changed = changed;
    this.#take(sessionStorage.getItem(this.#shelf));
  }

  /** A rehearsal outlives its page's reload. @param {string | null} kept */
  #take(kept) {
    if (!kept) return;
    try {
      const { given, steps, now, speed } = JSON.parse(kept);
      Object.assign(this, { given, steps, now, speed });
    } catch {
      sessionStorage.removeItem(this.#shelf);
    }
  }

  keep() {
    try {
      sessionStorage.setItem(this.#shelf, JSON.stringify({ given: this.given, steps: this.steps, now: this.now, speed: this.speed }));
    } catch {
      // a browser that keeps nothing forgets the rehearsal when the page is left
    }
  }

  /** Moves the clock by real seconds. @param {number} seconds @returns {boolean} whether it moved */
  tick(seconds) {
    if (!this.playing && !this.holding) return false;
    const speed = this.holding ? 1 : this.speed;
    if (this.answer.until - this.now < ahead * speed && this.answer.until < longest) void this.ask();
    const before = this.now;
    this.now = Math.min(this.now + seconds * speed, this.answer.until);
    if (this.now >= longest) this.playing = false;
    return this.now !== before;
  }

  /** Something happens now. @param {Step} step */
  act(step) {
    const at = Math.ceil(this.now * grain - 1e-6) / grain;
    this.steps = this.steps.filter((earlier) => (earlier.at_s ?? 0) <= at); // of a scenario that was played: from here on it goes another way
    const made = { at_s: at, ...step };
    this.steps.push(made);
    this.now = Math.max(this.now, at);
    if (!this.stopped) this.playing = true;
    return this.#settle(made);
  }

  /** A step that the server refuses did not happen. @param {Step} made */
  async #settle(made) {
    const outcome = await this.ask();
    if (outcome === 'refused' && this.steps.includes(made)) {
      this.steps = this.steps.filter((step) => step !== made);
      this.keep();
    }
    return outcome === 'answered';
  }

  /** Takes the newest step before now back; the clock goes to where it was made. */
  async back() {
    const i = this.steps.filter((step) => (step.at_s ?? 0) <= this.now + 1e-6).length - 1;
    if (i < 0) return;
    this.now = Math.min(this.now, this.steps[i].at_s ?? 0);
    this.steps = this.steps.slice(0, i);
    this.holding = false;
    await this.ask();
  }

  get canStepBack() {
    return this.steps.some((step) => (step.at_s ?? 0) <= this.now + 1e-6);
  }

  /** @param {Given} given @param {Step[]} [steps] @param {number} [now] */
  restart(given, steps = [], now = 0) {
    Object.assign(this, { given, steps, now, holding: false });
    return this.ask();
  }

  /** @param {number} seconds */
  async go(seconds) {
    const to = Math.min(this.now + seconds, longest);
    if (to > this.answer.until) {
      this.now = to;
      await this.ask();
      return;
    }
    this.now = to;
    this.#changed('');
  }

  /** What comes next by itself, or undefined. */
  get next() {
    return this.answer.log.find((entry) => entry.at > this.now + 1e-6);
  }

  /** What the page sends: the whole rehearsal. */
  get sent() {
    return { ...this.given, steps: this.steps, now_s: Math.round(this.now * 1000) / 1000, why: this.why };
  }

  /** Asks what follows from the steps. @returns {Promise<'answered' | 'refused' | 'lost' | 'overtaken'>} */
  async ask() {
    this.#asking?.abort();
    const asking = this.#asking = new AbortController();
    this.keep();
    try {
      const response = await fetch(this.#address, { method: 'POST', headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(this.sent), signal: asking.signal });
      const body = await response.json();
      if (asking !== this.#asking) return 'overtaken';
      this.#asking = null;
      if (!response.ok) {
        this.playing = false;
        this.#changed(body.error ?? 'The rehearsal was not understood: start it anew.');
        return 'refused';
      }
      this.answer = body;
      this.#changed('');
      return 'answered';
    } catch {
      if (asking.signal.aborted) return 'overtaken';
      this.#asking = null;
      this.playing = false;
      this.#changed('The server cannot be reached: the rehearsal stands still.');
      return 'lost';
    }
  }
}
