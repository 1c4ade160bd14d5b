// Search: rows that hold the words stay, and with them the parts they stand in.
(function () {
  const search = $('#search'), found = $('#found'), rows = $$('[data-find]'), groups = $$('[data-group]');
  let opened = [];
  search.hidden = false;
  const hide = (e, yes) => e.classList.toggle('hide', yes);
  const look = () => {
    const words = search.value.trim().toLowerCase().split(/\s+/).filter(Boolean);
    const holds = e => { const text = e.textContent.toLowerCase(); return words.every(w => text.includes(w)); };
    opened.forEach(d => { d.open = false; }); opened = [];
    let n = 0;
    const named = new Set(words.length ? groups.filter(g => holds($('summary', g))) : groups);
    rows.forEach(e => {
      const hit = !words.length || holds(e), group = e.closest('[data-group]');
      hide(e, !hit && !named.has(group));
      if (!words.length || !hit) return;
      n++;
      const d = e.closest('details');
      if (d && !d.open && !named.has(group)) { d.open = true; opened.push(d); }
    });
    const some = e => e.matches('[data-find]:not(.hide)') || !!$('[data-find]:not(.hide)', e);
    groups.forEach(g => { hide(g, words.length > 0 && !named.has(g) && !some(g)); if (named.has(g)) n += words.length ? 1 : 0; });
    $$('details.marking').forEach(d => d.classList.toggle('rows-only', words.length > 0 && !named.has(d)));
    // a part, a table or a heading without a row of it is put away
    $$('main section').forEach(s => hide(s, words.length > 0 && !some(s) && !groups.some(g => s.contains(g) && !g.classList.contains('hide'))));
    $$('.in table, main > section > table').forEach(t => hide(t, words.length > 0 && !some(t)));
    $$('main h3').forEach(h => { // with what stands between it and its table
      const between = [h];
      let t = h.nextElementSibling;
      while (t && t.tagName === 'P') { between.push(t); t = t.nextElementSibling; }
      if (t && t.tagName === 'TABLE') between.forEach(e => hide(e, t.classList.contains('hide')));
    });
    found.textContent = !words.length ? '' : n ? n + ' found' : 'nothing found';
  };
  search.addEventListener('input', look);
  search.addEventListener('keydown', e => {
    if (e.key === 'Escape') { search.value = ''; look(); }
    if (e.key !== 'Enter') return;
    const first = $('main [data-find]:not(.hide), main [data-group]:not(.hide)');
    if (first) first.scrollIntoView({ block: 'center' });
  });
})();
