'use strict';
(function () {
  const $ = (s, e) => (e || document).querySelector(s), $$ = (s, e) => [...(e || document).querySelectorAll(s)];

  // light and dark
  const theme = $('#theme');
  const dark = () => document.documentElement.hasAttribute('data-dark') || (!document.documentElement.hasAttribute('data-light') && matchMedia('(prefers-color-scheme: dark)').matches);
  theme.hidden = false;
  theme.addEventListener('click', () => {
    const to = dark() ? 'data-light' : 'data-dark';
    document.documentElement.removeAttribute('data-light'); document.documentElement.removeAttribute('data-dark');
    document.documentElement.setAttribute(to, '');
    theme.setAttribute('aria-pressed', String(to === 'data-dark'));
  });

  // a link to a closed part opens it
  const open = () => {
    const t = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!t) return;
    for (let e = t; e; e = e.parentElement) if (e.tagName === 'DETAILS') e.open = true;
    t.scrollIntoView();
    const s = t.tagName === 'DETAILS' ? $('summary', t) : null;
    if (s) s.focus({ preventScroll: true });
  };
  addEventListener('hashchange', open); open();
  addEventListener('beforeprint', () => $$('details').forEach(d => { d.open = true; }));

  // pan and zoom of drawings
  $$('.zoom').forEach(box => {
    const svg = $('svg', box), home = svg.viewBox.baseVal, h = [home.x, home.y, home.width, home.height];
    let v = h.slice();
    const show = () => svg.setAttribute('viewBox', v.join(' '));
    const zoom = (k, x, y) => {
      const w = Math.min(h[2], Math.max(h[2] / 60, v[2] * k)); k = w / v[2];
      v = [x - (x - v[0]) * k, y - (y - v[1]) * k, w, v[3] * k]; show();
    };
    const move = (dx, dy) => { v[0] += dx * v[2]; v[1] += dy * v[3]; show(); };
    const at = e => { const r = svg.getBoundingClientRect(); return [v[0] + (e.clientX - r.left) / r.width * v[2], v[1] + (e.clientY - r.top) / r.height * v[3]]; };
    svg.addEventListener('wheel', e => { if (!e.ctrlKey && !box.contains(document.activeElement)) return; e.preventDefault(); zoom(e.deltaY > 0 ? 1.2 : 1 / 1.2, ...at(e)); }, { passive: false });
    let from = null, moved = 0;
    svg.addEventListener('pointerdown', e => { from = at(e); moved = 0; });
    svg.addEventListener('pointermove', e => {
      if (!from) return;
      const p = at(e); moved += Math.abs(p[0] - from[0]) + Math.abs(p[1] - from[1]);
      v[0] += from[0] - p[0]; v[1] += from[1] - p[1]; show();
    });
    addEventListener('pointerup', () => { from = null; });
    svg.addEventListener('click', e => { if (moved > v[2] / 100) e.preventDefault(); }, true);
    const tools = $('.tools', box); tools.hidden = false;
    const act = { in: () => zoom(1 / 1.5, v[0] + v[2] / 2, v[1] + v[3] / 2), out: () => zoom(1.5, v[0] + v[2] / 2, v[1] + v[3] / 2), home: () => { v = h.slice(); show(); }, left: () => move(-.2, 0), right: () => move(.2, 0), up: () => move(0, -.2), down: () => move(0, .2) };
    $$('button', tools).forEach(b => b.addEventListener('click', () => act[b.dataset.do]()));
    box.addEventListener('keydown', e => {
      const f = { '+': 'in', '=': 'in', '-': 'out', '0': 'home', ArrowLeft: 'left', ArrowRight: 'right', ArrowUp: 'up', ArrowDown: 'down' }[e.key];
      if (f && !e.ctrlKey && !e.metaKey) { e.preventDefault(); act[f](); }
    });
  });

  // layers of a film by pass
  $$('.passes').forEach(box => {
    const tools = $('.tools', box); tools.hidden = false;
    $$('button', tools).forEach(b => b.addEventListener('click', () => {
      const on = b.getAttribute('aria-pressed') !== 'true';
      b.setAttribute('aria-pressed', String(on));
      const g = document.getElementById(b.dataset.layer);
      if (g) g.style.display = on ? '' : 'none';
    }));
  });

  // search
  const search = $('#search'), found = $('#found');
  search.hidden = false;
  search.addEventListener('input', () => {
    const q = search.value.trim().toLowerCase();
    let n = 0;
    $$('[data-find]').forEach(e => {
      const hit = !q || e.textContent.toLowerCase().includes(q);
      e.classList.toggle('hide', !hit);
      if (q && hit) { n++; const d = e.closest('details'); if (d) d.open = true; }
    });
    found.textContent = q ? n + ' found' : '';
  });

  // three dimensions, loaded when opened
  const start = $('#three-start');
  start.hidden = false;
  start.addEventListener('click', () => {
    start.hidden = true;
    for (const id of ['three-lib', 'three-code']) {
      const s = document.createElement('script');
      s.textContent = document.getElementById(id).textContent;
      document.body.appendChild(s);
    }
  });
})();
