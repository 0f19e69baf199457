// @ts-check
// Points on a picture: clicked, dragged or typed as pixels. The fields are the
// truth; the marks follow them.

/** @typedef {'a' | 'b' | 'c' | 'd'} Name @typedef {{x: number, y: number}} Place */

/** @type {Name[]} */
const names = ['a', 'b', 'c', 'd'];
const host = document.getElementById('picture');
const svg = host?.querySelector('svg');
if (host && svg instanceof SVGSVGElement) start(host, svg);

/**
 * @param {HTMLElement} host
 * @param {SVGSVGElement} svg
 */
function start(host, svg) {
  const mark = Number(svg.dataset.mark);
  let next = firstFree();
  let zoom = 1;
  /** @type {Name | null} */
  let dragged = null;

  /** @param {PointerEvent} event @returns {Place} */
  const place = (event) => {
    const matrix = svg.getScreenCTM();
    if (!matrix) return { x: 0, y: 0 };
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const box = svg.viewBox.baseVal;
    return { x: Math.min(box.width, Math.max(0, at.x)), y: Math.min(box.height, Math.max(0, at.y)) };
  };
  /** @param {Name} point @param {Place} at */
  const set = (point, at) => {
    field(point + 'x').value = at.x.toFixed(1);
    field(point + 'y').value = at.y.toFixed(1);
    field(point + 'y').dispatchEvent(new Event('input', { bubbles: true })); // what it would do is worked out anew
    show();
  };
  const show = () => {
    for (const name of names) {
      const at = read(name);
      const group = svg.querySelector(`[data-point="${name}"]`);
      if (!(group instanceof SVGGElement)) continue;
      group.toggleAttribute('hidden', at === null);
      if (!at) continue;
      const size = mark / zoom;
      group.setAttribute('transform', `translate(${at.x} ${at.y})`);
      group.querySelector('path')?.setAttribute('d', `M${-size} 0H${size}M0 ${-size}V${size}`);
      const text = group.querySelector('text');
      text?.setAttribute('font-size', String(1.4 * size));
      text?.setAttribute('x', String(0.3 * size));
      text?.setAttribute('y', String(-0.3 * size));
    }
    join('a', 'b');
    join('c', 'd');
    for (const button of picks()) button.setAttribute('aria-pressed', String(button.dataset.pick === next));
    const apart = document.getElementById('apart');
    const lengths = [length('a', 'b'), length('c', 'd')];
    if (apart) apart.textContent = ['A to B', 'C to D'].flatMap((way, i) => (lengths[i] > 0 ? [`${way}: ${lengths[i].toFixed(1)} pixels`] : [])).join(', ');
  };
  /** @param {Name} from @param {Name} to */
  const join = (from, to) => {
    const a = read(from);
    const b = read(to);
    const line = svg.querySelector(`[data-between="${from}${to}"]`);
    line?.toggleAttribute('hidden', !a || !b);
    if (!a || !b) return;
    for (const [name, value] of Object.entries({ x1: a.x, y1: a.y, x2: b.x, y2: b.y })) line?.setAttribute(name, String(value));
  };

  svg.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    const at = place(event);
    const near = names.find((point) => {
      const there = read(point);
      return there !== null && Math.hypot(there.x - at.x, there.y - at.y) < mark / zoom;
    });
    dragged = near ?? next;
    if (!near) {
      set(dragged, at);
      if (dragged > 'b') openSecond();
      next = after(dragged);
      show();
    }
    svg.setPointerCapture(event.pointerId);
  });
  svg.addEventListener('pointermove', (event) => {
    if (dragged) set(dragged, place(event));
  });
  for (const end of ['pointerup', 'pointercancel']) {
    svg.addEventListener(end, () => {
      dragged = null;
    });
  }
  for (const name of names) for (const way of ['x', 'y']) field(name + way).addEventListener('input', show);
  for (const button of picks()) {
    button.addEventListener('click', () => {
      next = /** @type {Name} */ (button.dataset.pick);
      if (next > 'b') openSecond();
      show();
    });
  }
  document.getElementById('second-pair')?.addEventListener('toggle', () => {
    next = firstFree();
    show();
  });
  for (const button of document.querySelectorAll('[data-zoom]')) {
    button.addEventListener('click', () => {
      zoom = button.getAttribute('data-zoom') === 'in' ? Math.min(8, zoom * 2) : Math.max(1, zoom / 2);
      svg.style.width = `${100 * zoom}%`;
      svg.style.maxHeight = zoom === 1 ? '' : 'none';
      show();
    });
  }
  document.getElementById('pixels')?.removeAttribute('open'); // the marks show them
  host.classList.add('live');
  show();
}

function picks() {
  return /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll('[data-pick]'));
}

function second() {
  return /** @type {HTMLDetailsElement | null} */ (document.getElementById('second-pair'));
}

function openSecond() {
  const details = second();
  if (details) details.open = true;
}

/** The first point that is not marked; the second pair only where it is asked for. @returns {Name} */
function firstFree() {
  const wanted = second()?.open ? names : names.slice(0, 2);
  return wanted.find((name) => read(name) === null) ?? 'a';
}

/** @param {Name} name @returns {Name} */
function after(name) {
  if (name === 'a') return 'b';
  if (name === 'c') return 'd';
  return second()?.open && name === 'b' ? 'c' : name === 'd' ? 'c' : 'a';
}

/** @param {string} id @returns {HTMLInputElement} */
function field(id) {
  return /** @type {HTMLInputElement} */ (document.getElementById(id));
}

/** What the fields of a point say, null where they say none. @param {Name} point @returns {Place | null} */
function read(point) {
  const [x, y] = ['x', 'y'].map((axis) => field(point + axis).value.trim());
  if (x === '' || y === '' || !Number.isFinite(Number(x)) || !Number.isFinite(Number(y))) return null;
  return { x: Number(x), y: Number(y) };
}

/** @param {Name} from @param {Name} to @returns {number} pixels, 0 where one is not marked */
function length(from, to) {
  const a = read(from);
  const b = read(to);
  return a && b ? Math.hypot(b.x - a.x, b.y - a.y) : 0;
}
