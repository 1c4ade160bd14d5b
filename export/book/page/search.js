// Search: a list of hits; one that is chosen is jumped to.
(() => {
  const search = $('#search'), found = $('#found'), list = $('#hits');
  let index = null, shown = [], at = -1;
  search.hidden = false;
  const build = () => indexed($$('[data-hit]').map(e => {
    const card = e.closest('[data-marking]'), mark = card ? card.dataset.marking : '';
    const head = e.matches('details') ? e.querySelector('summary').textContent : e.textContent, text = head.replace(/\s+/g, ' ').trim();
    return { e, name: e.matches('details') ? mark : [mark, e.dataset.hit].filter(Boolean).join(', '), text };
  }));
  const choose = n => {
    at = n;
    [...list.children].forEach((li, i) => { li.setAttribute('aria-selected', String(i === at)); if (i === at) li.scrollIntoView({ block: 'nearest' }); });
    search.setAttribute('aria-activedescendant', at >= 0 ? 'hit-' + at : '');
  };
  const hide = () => { list.hidden = true; search.setAttribute('aria-expanded', 'false'); at = -1; };
  const look = () => {
    index ||= build();
    const { total, hits } = hitsOf(index, search.value, 40);
    shown = hits;
    list.replaceChildren(...hits.map((h, i) => {
      const li = document.createElement('li'), b = document.createElement('b'), s = document.createElement('span');
      li.id = 'hit-' + i; li.setAttribute('role', 'option'); li.setAttribute('aria-selected', 'false'); li.dataset.n = i;
      b.textContent = h.name; s.textContent = piece(h.text, search.value); li.append(b, ' ', s);
      return li;
    }));
    at = -1;
    list.hidden = !hits.length; search.setAttribute('aria-expanded', String(hits.length > 0)); search.removeAttribute('aria-activedescendant');
    found.textContent = !search.value.trim() ? '' : total > hits.length ? `${total} found, the first ${hits.length}` : total ? `${total} found` : 'nothing found';
  };
  const jump = i => {
    const h = shown[i];
    if (!h) return;
    for (let e = h.e; e; e = e.parentElement) if (e.tagName === 'DETAILS') e.open = true;
    hide();
    h.e.scrollIntoView({ block: 'center' });
    $$('.hit').forEach(e => e.classList.remove('hit'));
    h.e.classList.add('hit');
    const first = h.e.matches('details') ? $('summary', h.e) : $('a, input, button', h.e);
    if (first) first.focus({ preventScroll: true }); else { h.e.tabIndex = -1; h.e.focus({ preventScroll: true }); }
  };
  search.addEventListener('input', look);
  list.addEventListener('mousedown', e => e.preventDefault());
  list.addEventListener('click', e => { const li = e.target.closest('li'); if (li) jump(+li.dataset.n); });
  search.addEventListener('keydown', e => {
    if (e.key === 'Escape') { search.value = ''; look(); hide(); }
    if (e.key === 'ArrowDown' || e.key === 'ArrowUp') { e.preventDefault(); if (shown.length) choose((at + (e.key === 'ArrowDown' ? 1 : -1) + shown.length) % shown.length); }
    if (e.key === 'Enter') { e.preventDefault(); jump(at < 0 ? 0 : at); } // or what has the focus then would be pressed
  });
  search.addEventListener('blur', hide);
  search.addEventListener('focus', () => { if (search.value.trim()) look(); });
})();
