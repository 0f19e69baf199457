// @ts-check
// What is selected, by key. Imports no DOM.

export class Selection {
  /** @type {Set<string>} */
  keys = new Set();
  /** @type {() => void} */
  changed = () => {};

  /** @param {Iterable<string>} keys */
  set(keys) {
    this.keys = new Set(keys);
    this.changed();
  }

  /** Shift: in where it was out, out where it was in. @param {Iterable<string>} keys */
  toggle(keys) {
    for (const key of keys) if (!this.keys.delete(key)) this.keys.add(key);
    this.changed();
  }

  clear() {
    if (this.keys.size > 0) this.set([]);
  }

  /** Forgets what is no longer there. @param {(key: string) => boolean} there */
  keep(there) {
    this.keys = new Set([...this.keys].filter(there));
    this.changed();
  }
}
