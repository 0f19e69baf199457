// @ts-check
// Two points on a picture: clicked, dragged or typed as pixels. The fields are
// the truth; the marks follow them.

const host = document.getElementById('picture');
const svg = host?.querySelector('svg');
if (host && svg instanceof SVGSVGElement) start(host, svg);

/**
 * @param {HTMLElement} host
 * @param {SVGSVGElement} svg
 */
function start(host, svg) {
  const mark = Number(svg.dataset.mark);
  let next = field('ax').value === '' ? 'a' : field('bx').value === '' ? 'b' : 'a';
  let zoom = 1;
  /** @type {string | null} */
  let dragged = null;

  /** @param {PointerEvent} event */
  const place = (event) => {
    const matrix = svg.getScreenCTM();
    if (!matrix) return { x: 0, y: 0 };
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(matrix.inverse());
    const box = svg.viewBox.baseVal;
    return { x: Math.min(box.width, Math.max(0, at.x)), y: Math.min(box.height, Math.max(0, at.y)) };
  };
  /**
   * @param {string} point
   * @param {{x: number, y: number}} at
   */
  const set = (point, at) => {
    field(point + 'x').value = at.x.toFixed(1);
    field(point + 'y').value = at.y.toFixed(1);
    show();
  };
  const show = () => {
    const a = read('a');
    const b = read('b');
    for (const [name, at] of /** @type {[string, {x: number, y: number} | null][]} */ ([['a', a], ['b', b]])) {
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
    const line = svg.querySelector('.between');
    const both = a !== null && b !== null;
    line?.toggleAttribute('hidden', !both);
    const apart = document.getElementById('apart');
    if (!both) {
      if (apart) apart.textContent = `Click ${next.toUpperCase()} on the picture.`;
      return;
    }
    for (const [name, value] of Object.entries({ x1: a.x, y1: a.y, x2: b.x, y2: b.y })) line?.setAttribute(name, String(value));
    const pixels = Math.hypot(b.x - a.x, b.y - a.y);
    if (apart && pixels > 0) apart.textContent = `A to B: ${pixels.toFixed(1)} pixels. One pixel wrong at each end makes every length ${(200 / pixels).toFixed(2)} % wrong.`;
  };

  svg.addEventListener('pointerdown', (event) => {
    if (event.button !== 0) return;
    event.preventDefault();
    const at = place(event);
    const near = ['a', 'b'].find((point) => {
      const there = read(point);
      return there !== null && Math.hypot(there.x - at.x, there.y - at.y) < mark / zoom;
    });
    dragged = near ?? next;
    if (!near) {
      set(dragged, at);
      next = next === 'a' ? 'b' : 'a';
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
  for (const id of ['ax', 'ay', 'bx', 'by']) field(id).addEventListener('input', show);
  for (const button of document.querySelectorAll('[data-zoom]')) {
    button.addEventListener('click', () => {
      zoom = button.getAttribute('data-zoom') === 'in' ? Math.min(8, zoom * 2) : Math.max(1, zoom / 2);
      svg.style.width = `${100 * zoom}%`;
      svg.style.maxHeight = zoom === 1 ? '' : 'none';
      show();
    });
  }
  host.classList.add('live');
  show();
}

/**
 * @param {string} id
 * @returns {HTMLInputElement}
 */
function field(id) {
  return /** @type {HTMLInputElement} */ (document.getElementById(id));
}

/**
 * What the fields of a point say, null where they say none.
 * @param {string} point
 * @returns {{x: number, y: number} | null}
 */
function read(point) {
  const [x, y] = ['x', 'y'].map((axis) => field(point + axis).value.trim());
  if (x === '' || y === '' || !Number.isFinite(Number(x)) || !Number.isFinite(Number(y))) return null;
  return { x: Number(x), y: Number(y) };
}
