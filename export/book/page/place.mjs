// Placing films on a phone, one point at a time. It needs a node to draw in and is told
// everything else, so that other pages use it too:
//
//   placeView(root, {data, state(), tick(key, on, what), read(key, reading), picture(view),
//                    unit, setUnit(unit), close(), marking})
//
// picture returns the SVG element of a view, or null; its units are those of the data.
import { show } from './lengths.mjs';
import { heldOf, judged, nextOf, pointsOf, press, readingOf, shownOf, typed, valueOf } from './placing.mjs';
import { isOn } from './state.mjs';

const svgNS = 'http://www.w3.org/2000/svg';
const made = (tag, props = {}, ...kids) => {
  const e = document.createElement(tag);
  for (const [k, v] of Object.entries(props)) if (k in e && k !== 'role') e[k] = v; else e.setAttribute(k, v);
  e.append(...kids);
  return e;
};
const drawn = (tag, attributes) => { const e = document.createElementNS(svgNS, tag); for (const [k, v] of Object.entries(attributes)) e.setAttribute(k, v); return e; };

export function placeView(root, o) {
  const list = pointsOf(o.data, o.marking), parts = o.data.parts;
  let at = Math.max(0, nextOf(list, o.state())), entry = null, at0 = typed, unit = o.unit;

  const big = text => { // a fraction stays together, its unit is smaller
    const m = text.match(/^(.*?) ?(in|mm)$/);
    return m ? [made('b', {}, m[1]), made('small', {}, m[2])] : [made('b', {}, text)];
  };
  const says = tape => unit === o.data.unit ? tape.says : show(tape.length + heldOf(o.data, tape), unit);

  // the place on the aircraft: the view as it is, and over it the tapes of this point
  function picture(box) {
    const { marking, point } = list[at], view = marking.view && o.picture(marking.view);
    if (!view) return;
    const svg = drawn('svg', { role: 'img', 'aria-label': `${point.label} of ${marking.id} with ${point.tapes.length} tapes` });
    for (const g of view.children) if (/-(skin|structure|markings)$/.test(g.id || '')) {
      const copy = g.cloneNode(true);
      copy.removeAttribute('id');
      for (const e of copy.querySelectorAll('[id]')) e.removeAttribute('id');
      for (const a of copy.querySelectorAll('a')) a.replaceWith(...a.childNodes);
      svg.append(copy);
    }
    const xs = marking.points.map(p => p.seen[0]), ys = marking.points.map(p => p.seen[1]);
    for (const t of point.tapes) t.path.forEach((v, i) => (i % 2 ? ys : xs).push(v));
    const w = box.clientWidth || 360, h = box.clientHeight || 240, pad = 1.22;
    const mid = [(Math.min(...xs) + Math.max(...xs)) / 2, (Math.min(...ys) + Math.max(...ys)) / 2];
    const scale = Math.max((Math.max(...xs) - Math.min(...xs)) * pad / w, (Math.max(...ys) - Math.min(...ys)) * pad / h, 60 / w), px = n => n * scale;
    svg.setAttribute('viewBox', [mid[0] - w * scale / 2, mid[1] - h * scale / 2, w * scale, h * scale].map(v => v.toFixed(1)).join(' '));
    const halo = { 'paint-order': 'stroke', stroke: '#fff', 'stroke-width': px(5), 'stroke-linejoin': 'round' };
    for (const t of point.tapes.filter(t => t.path.length)) {
      const line = []; for (let i = 0; i < t.path.length; i += 2) line.push(`${t.path[i]},${t.path[i + 1]}`);
      svg.append(drawn('polyline', { points: line.join(' '), fill: 'none', stroke: '#fff', 'stroke-width': px(6) }), drawn('polyline', { points: line.join(' '), fill: 'none', stroke: t.use === 'check' ? '#1a1a1a' : '#98371c', 'stroke-width': px(3), ...(t.use === 'check' ? { 'stroke-dasharray': `${px(8)} ${px(6)}` } : {}) }));
    }
    for (const t of point.tapes.filter(t => t.path.length)) {
      const [x, y] = t.path.slice(-2), right = x > mid[0] + w * scale * .25;
      svg.append(drawn('circle', { cx: x, cy: y, r: px(t.hook ? 6 : 3), fill: '#fff', stroke: '#98371c', 'stroke-width': px(3) }));
      const label = drawn('text', { x: x + px(right ? -11 : 11), y: y + px(y > mid[1] ? 20 : -9), 'font-size': px(19), 'font-weight': 700, fill: '#98371c', 'text-anchor': right ? 'end' : 'start', ...halo });
      label.textContent = t.hook || ''; svg.append(label);
    }
    svg.append(drawn('circle', { cx: point.seen[0], cy: point.seen[1], r: px(9), fill: 'none', stroke: '#000', 'stroke-width': px(3) }), drawn('circle', { cx: point.seen[0], cy: point.seen[1], r: px(2.5), fill: '#000' }));
    box.replaceChildren(svg);
  }

  function row(tape) {
    const r = o.state().readings[tape.key], text = entry === tape ? shownOf(at0, parts, unit) || 'type it' : r && r.value !== null ? (r.unit === 'mm' ? `${r.value} mm` : show(r.value, 'in')) : '';
    const b = made('button', { type: 'button', className: 'pl-tape' + (entry === tape ? ' on' : ''), 'aria-pressed': String(entry === tape) },
      made('span', { className: 'pl-say' }, ...big(says(tape))), made('span', { className: 'pl-read' }, text || 'read'), made('span', { className: 'pl-from' }, ...(tape.use === 'check' ? [made('b', {}, 'check '), tape.where] : [tape.where])));
    b.addEventListener('click', () => { entry = entry === tape ? null : tape; at0 = typed; draw(); });
    return b;
  }

  function keypad() {
    const box = made('div', { className: 'pl-keys', role: 'group', 'aria-label': 'keypad' });
    const key = (name, label, className = '', aria = '') => {
      const b = made('button', { type: 'button', className }, label);
      if (aria) b.setAttribute('aria-label', aria);
      b.dataset.key = name;
      b.addEventListener('click', () => {
        if (name === 'ok') { keep(); return; }
        if (name === 'clear') { o.read(entry.key, { ...readingOf(o.data, list[at].point, entry, null, unit) }); entry = null; draw(); return; }
        at0 = press(at0, name, unit); draw();
        root.querySelector(`[data-key="${name}"]`)?.focus();
      });
      box.append(b);
    };
    for (const d of '12345') key(d, d);
    key('back', 'del');
    for (const d of '67890') key(d, d);
    if (unit === 'mm') { key('.', '.'); key('clear', 'no reading', 'wide3'); key('ok', 'enter', 'wide3 ok'); return box; }
    key('ok', 'enter', 'ok');
    for (let i = 1; i < parts && i < 17; i++) key('p' + i, fractionLabel(i), 'part', `and ${fractionLabel(i)}`);
    if (parts <= 16) key('p0', '0', 'part', 'and 0, no fraction');
    key('clear', 'no reading', 'wide2');
    return box;
  }
  const fractionLabel = i => { let a = i, b = parts; while (a % 2 === 0) { a /= 2; b /= 2; } return `${a}/${b}`; };

  function keep() {
    const value = valueOf(at0, parts), { point } = list[at];
    if (value !== null && value > 0) o.read(entry.key, readingOf(o.data, point, entry, value, unit));
    const rest = point.tapes.slice(point.tapes.indexOf(entry) + 1).find(t => !o.state().readings[t.key] || o.state().readings[t.key].value === null);
    entry = rest && value !== null ? rest : null; at0 = typed; draw();
  }

  function draw() {
    if (!list.length) { root.replaceChildren(made('p', {}, 'No point can be placed by tapes here.'), closer()); return; }
    const { marking, point, number, of } = list[at], state = o.state(), done = isOn(state, point.key), left = list.filter(p => !isOn(state, p.point.key)).length;
    const verdict = judged(o.data, marking, point, state, unit);
    const units = made('button', { type: 'button', className: 'pl-unit', 'aria-label': unit === 'mm' ? 'mm, show inches' : 'in, show millimetres' }, unit === 'mm' ? 'mm' : 'in');
    units.addEventListener('click', () => { unit = unit === 'mm' ? 'in' : 'mm'; at0 = typed; o.setUnit(unit); draw(); });
    const head = made('header', { className: 'pl-head' }, made('div', {}, made('h2', {}, marking.id), made('p', {}, `point ${number} of ${of}: ${point.label}`)), units, closer());
    const says = made('p', { className: `pl-says ${verdict.level}`, role: 'status' }, verdict.text || (point.tapes.length ? (point.tapes.every(t => t.hook) ? 'Swing both; the point is where they meet.' : 'The first, then the second from where it ends.') : point.other || 'No tape reaches this point.'), ...(verdict.wrong.length ? [made('span', {}, verdict.wrong.join(' '))] : []));
    const box = made('div', { className: 'pl-picture' });
    const step = (by, text, aria) => { const b = made('button', { type: 'button', className: 'pl-step', 'aria-label': aria }, text); b.addEventListener('click', () => go(at + by)); b.disabled = at + by < 0 || at + by >= list.length; return b; };
    const finish = made('button', { type: 'button', className: 'pl-done' + (done ? ' is' : '') , 'aria-pressed': String(done) }, done ? (left ? 'Done: next' : 'All done') : 'Done');
    finish.addEventListener('click', () => {
      if (!done) o.tick(point.key, true, `place ${point.id}`);
      const next = nextOf(list, o.state(), at);
      if (next < 0) { entry = null; draw(); } else go(next);
    });
    const foot = made('footer', { className: 'pl-foot' }, step(-1, '\u2039', 'the point before'), finish, step(1, '\u203a', 'the next point'));
    const middle = entry ? keypad() : box;
    const focus = root.contains(document.activeElement) ? document.activeElement.className.split(' ')[0] : '';
    root.replaceChildren(made('div', { className: 'pl' }, head, made('div', { className: 'pl-tapes' }, ...point.tapes.map(row)), says, middle, foot));
    if (!entry) picture(box);
    if (focus === 'pl-tape' || (focus && entry)) root.querySelector(entry ? '.pl-tape.on' : '.pl-done')?.focus({ preventScroll: true });
    else if (focus) root.querySelector(focus === 'pl-done' || focus === 'pl-step' ? '.' + focus : '.pl-done')?.focus({ preventScroll: true });
  }
  function closer() { const b = made('button', { type: 'button', className: 'pl-close' }, 'close'); b.addEventListener('click', o.close); return b; }
  function go(n) { at = Math.min(list.length - 1, Math.max(0, n)); entry = null; at0 = typed; draw(); root.scrollTop = 0; }

  root.onkeydown = e => {
    if (!entry || e.ctrlKey || e.metaKey || e.altKey) return;
    const name = /^[\d.]$/.test(e.key) ? e.key : e.key === 'Backspace' ? 'back' : e.key === 'Enter' && !e.target.closest('.pl-keys') ? 'ok' : null;
    if (name === 'ok') { e.preventDefault(); keep(); } else if (name) { e.preventDefault(); at0 = press(at0, name, unit); draw(); }
  };
  draw();
  return { draw, go: id => { const i = list.findIndex(p => p.point.id === id); if (i >= 0) go(i); } };
}
