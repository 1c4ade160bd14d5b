// Light and dark, links into folded parts, layers of a film. Without these scripts
// everything but placing and the view in three dimensions can be read.
const $ = (s, e) => (e || document).querySelector(s), $$ = (s, e) => [...(e || document).querySelectorAll(s)];

(() => {
  const root = document.documentElement, theme = $('#theme');
  const given = (() => { try { return localStorage.getItem('maskloft theme'); } catch { return null; } })();
  if (given === 'dark' || given === 'light') root.setAttribute('data-' + given, '');
  const dark = () => root.hasAttribute('data-dark') || (!root.hasAttribute('data-light') && matchMedia('(prefers-color-scheme: dark)').matches);
  const tell = () => theme.setAttribute('aria-pressed', String(dark()));
  theme.hidden = false; tell();
  theme.addEventListener('click', () => {
    const to = dark() ? 'light' : 'dark';
    root.removeAttribute('data-light'); root.removeAttribute('data-dark'); root.setAttribute('data-' + to, ''); tell();
    try { localStorage.setItem('maskloft theme', to); } catch { /* it lasts until the page closes */ }
  });

  // a link to a folded part opens it
  const open = () => {
    const t = location.hash.length > 1 && document.getElementById(decodeURIComponent(location.hash.slice(1)));
    if (!t) return;
    for (let e = t; e; e = e.parentElement) if (e.tagName === 'DETAILS') e.open = true;
    t.scrollIntoView();
    const s = t.tagName === 'DETAILS' ? $('summary', t) : null;
    if (s) s.focus({ preventScroll: true });
  };
  addEventListener('hashchange', open); open();
  document.addEventListener('click', e => { const a = e.target.closest && e.target.closest('a[href^="#"]'); if (a && a.getAttribute('href') === location.hash) open(); });

  // folded parts are printed open, and closed again afterwards
  let closed = [];
  addEventListener('beforeprint', () => { closed = $$('details:not([open])'); closed.forEach(d => { d.open = true; }); });
  addEventListener('afterprint', () => closed.forEach(d => { d.open = false; }));

  $('#all-tools').hidden = false;
  for (const [id, to] of [['all-open', true], ['all-close', false]]) $('#' + id).addEventListener('click', () => $$('details.marking').forEach(d => { d.open = to; }));

  // where the reader is
  const links = new Map($$('nav a').map(a => [a.getAttribute('href').slice(1), a])), seen = new Set();
  const watch = new IntersectionObserver(all => {
    all.forEach(e => e.isIntersecting ? seen.add(e.target.id) : seen.delete(e.target.id));
    let here = null;
    for (const [id, a] of links) { a.removeAttribute('aria-current'); if (!here && seen.has(id)) here = a; }
    if (!here) return;
    here.setAttribute('aria-current', 'true');
    const row = here.parentElement;
    if (row.scrollWidth > row.clientWidth) row.scrollLeft = here.offsetLeft - row.offsetLeft - row.clientWidth / 3;
  }, { rootMargin: '-12% 0px -60% 0px' });
  links.forEach((a, id) => watch.observe(document.getElementById(id)));

  // layers of a film by pass
  $$('.passes').forEach(box => {
    const tools = $('.tools', box); tools.hidden = false;
    $$('button', tools).forEach(b => b.addEventListener('click', () => {
      const on = b.getAttribute('aria-pressed') !== 'true', g = document.getElementById(b.dataset.layer);
      b.setAttribute('aria-pressed', String(on));
      if (g) g.style.display = on ? '' : 'none';
    }));
  });
})();
