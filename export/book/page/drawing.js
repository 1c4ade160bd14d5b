// Pan and zoom of the sides: by pointer, by two fingers, by wheel, by keys.
(() => {
  const drawings = new Map();
  $$('.zoom').forEach(box => {
    const svg = $('svg', box), base = svg.viewBox.baseVal;
    let home = [base.x, base.y, base.width, base.height], v = home.slice();
    // on a narrow screen the aircraft alone fills the width, without its rulers
    if (innerWidth < 640) {
      const b = [...svg.children].filter(g => /-(skin|structure|markings)$/.test(g.id)).map(g => g.getBBox()).filter(r => r.width > 0);
      if (b.length) {
        const x = Math.min(...b.map(r => r.x)), y = Math.min(...b.map(r => r.y)), w = Math.max(...b.map(r => r.x + r.width)) - x, h = Math.max(...b.map(r => r.y + r.height)) - y;
        home = [x - w * .03, y - h * .06, w * 1.06, h * 1.12]; v = home.slice();
      }
    }
    const show = () => { svg.setAttribute('viewBox', v.join(' ')); box.classList.toggle('near', v[2] < home[2] * .999); };
    const zoom = (k, x, y) => {
      const w = Math.min(home[2], Math.max(home[2] / 60, v[2] * k)); k = w / v[2];
      v = [x - (x - v[0]) * k, y - (y - v[1]) * k, w, v[3] * k]; keep();
    };
    // some of the drawing stays in its frame
    const keep = () => { for (const i of [0, 1]) v[i] = Math.min(home[i] + home[i + 2] - v[i + 2] * .5, Math.max(home[i] - v[i + 2] * .5, v[i])); show(); };
    const move = (dx, dy) => { v[0] += dx * v[2]; v[1] += dy * v[3]; keep(); };
    const at = (x, y) => { const p = new DOMPoint(x, y).matrixTransform(svg.getScreenCTM().inverse()); return [p.x, p.y]; };
    const near = (r, share) => {
      const k = Math.min(1, Math.max(r.width / home[2], r.height / home[3]) / share), w = home[2] * k, h = home[3] * k;
      v = [r.x + r.width / 2 - w / 2, r.y + r.height / 2 - h / 2, w, h]; keep();
    };
    show(); drawings.set(box.id, { svg, near });
    svg.addEventListener('wheel', e => { if (!e.ctrlKey && !box.contains(document.activeElement)) return; e.preventDefault(); zoom(e.deltaY > 0 ? 1.2 : 1 / 1.2, ...at(e.clientX, e.clientY)); }, { passive: false });
    const fingers = new Map(); let moved = 0;
    svg.addEventListener('pointerdown', e => { if (!fingers.size) moved = 0; fingers.set(e.pointerId, [e.clientX, e.clientY]); });
    svg.addEventListener('pointermove', e => {
      const was = fingers.get(e.pointerId);
      if (!was) return;
      const now = [e.clientX, e.clientY], other = [...fingers].find(f => f[0] !== e.pointerId);
      moved += Math.hypot(now[0] - was[0], now[1] - was[1]);
      if (other) {
        const far = p => Math.hypot(p[0] - other[1][0], p[1] - other[1][1]);
        zoom(Math.max(far(was), 10) / Math.max(far(now), 10), ...at((now[0] + other[1][0]) / 2, (now[1] + other[1][1]) / 2));
      } else if (e.pointerType === 'mouse' || box.classList.contains('near') || box.classList.contains('full')) {
        const p = at(...was), q = at(...now); v[0] += p[0] - q[0]; v[1] += p[1] - q[1]; keep();
      }
      fingers.set(e.pointerId, now);
    });
    for (const end of ['pointerup', 'pointercancel']) addEventListener(end, e => fingers.delete(e.pointerId));
    svg.addEventListener('dragstart', e => e.preventDefault());
    svg.addEventListener('click', e => { if (moved > 8) { e.preventDefault(); e.stopPropagation(); } }, true);
    const tools = $('.tools', box); tools.hidden = false;
    const middle = () => [v[0] + v[2] / 2, v[1] + v[3] / 2];
    const full = on => {
      box.classList.toggle('full', on);
      const b = $('[data-do=full]', box); b.setAttribute('aria-pressed', String(on)); b.textContent = on ? 'close' : 'full screen';
      document.body.style.overflow = on ? 'hidden' : '';
      if (on && box.requestFullscreen) box.requestFullscreen().then(() => screen.orientation && screen.orientation.lock && screen.orientation.lock('landscape').catch(() => {})).catch(() => {});
      if (!on && document.fullscreenElement === box) document.exitFullscreen().catch(() => {});
    };
    document.addEventListener('fullscreenchange', () => { if (!document.fullscreenElement && box.classList.contains('full')) full(false); });
    const act = { full: () => full(!box.classList.contains('full')), in: () => zoom(1 / 1.5, ...middle()), out: () => zoom(1.5, ...middle()), home: () => { v = home.slice(); show(); }, left: () => move(-.2, 0), right: () => move(.2, 0), up: () => move(0, -.2), down: () => move(0, .2) };
    $$('button', tools).forEach(b => b.addEventListener('click', () => act[b.dataset.do]()));
    addEventListener('beforeprint', act.home); // paper shows the whole side
    svg.addEventListener('click', e => { if (box.classList.contains('full') && e.target.closest('a')) full(false); });
    box.addEventListener('keydown', e => {
      if (e.key === 'Escape' && box.classList.contains('full')) { full(false); return; }
      const f = { '+': 'in', '=': 'in', '-': 'out', '0': 'home', ArrowLeft: 'left', ArrowRight: 'right', ArrowUp: 'up', ArrowDown: 'down' }[e.key];
      if (f && !e.ctrlKey && !e.metaKey && !e.altKey) { e.preventDefault(); act[f](); }
    });
  });

  // from the figures of a marking back to its place on the side
  $$('[data-show]').forEach(b => b.addEventListener('click', () => {
    const d = drawings.get(b.dataset.show), a = d && [...d.svg.querySelectorAll('a')].find(a => a.getAttribute('href') === '#m-' + b.dataset.mark);
    if (!a) return;
    $$('.zoom a.shown').forEach(o => o.classList.remove('shown'));
    a.classList.add('shown'); d.near(a.getBBox(), .35);
    document.getElementById(b.dataset.show).scrollIntoView({ block: 'center' });
    a.focus({ preventScroll: true });
  }));
})();
