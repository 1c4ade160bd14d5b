// Ticks on the page, the state as a file and as a text.
(() => {
  const boxes = $$('[data-key]'), says = $('#state-says'), text = $('#state-text'), who = $('#who');
  const known = new Map(boxes.map(b => [b.dataset.key, b.dataset.what]));
  const counts = $$('[data-count]').map(e => [e, boxes.filter(b => b.dataset.tick === e.dataset.count)]);
  $('#state').hidden = $('#done').hidden = false;
  who.value = stored.get('maskloft name') || '';
  who.addEventListener('change', () => stored.set('maskloft name', who.value.trim()));
  const toast = document.createElement('div');
  toast.className = 'toast'; toast.hidden = true;
  const told = document.createElement('span'), back = document.createElement('button');
  back.type = 'button'; back.textContent = 'undo'; told.setAttribute('role', 'status'); toast.append(told, back);
  $('main').append(toast);
  let timer = 0;
  const offer = what => { told.textContent = what; toast.hidden = false; clearTimeout(timer); timer = setTimeout(() => { toast.hidden = true; }, 8000); };
  const undo = () => { const what = job.undo(); toast.hidden = true; if (what) says.textContent = `taken back: ${what}`; };
  back.addEventListener('click', undo);
  $('#state-undo').addEventListener('click', undo);

  const when = at => at ? new Date(at * 1000).toLocaleString([], { dateStyle: 'short', timeStyle: 'short' }) : '';
  function show() {
    const s = job.state();
    let done = 0;
    for (const b of boxes) {
      const on = isOn(s, b.dataset.key), e = s.ticks[b.dataset.key];
      b.checked = on; if (on) done++;
      const label = b.closest('tr');
      label.classList.toggle('done', on);
      b.title = e ? `${on ? 'ticked' : 'taken back'} ${when(e.at)}${e.by ? ` by ${e.by}` : ''}` : '';
    }
    for (const [e, of] of counts) { e.textContent = of.length ? `${of.filter(b => b.checked).length} of ${of.length} placed` : ''; e.classList.toggle('good', of.length > 0 && of.every(b => b.checked)); }
    $('#done').textContent = `${done} of ${boxes.length} steps done`;
    const others = Object.keys(s.ticks).filter(k => !known.has(k) && s.ticks[k].on).length, left = others ? ` ${others} of films or places that have changed since are kept in the file and not shown.` : '';
    $('#kept').textContent = (stored.works() ? 'Ticks and readings are kept on this device; a rebuilt book keeps those whose film or place is the same.' : 'Ticks last until this page closes: this browser keeps nothing. Save the file before you close it.') + left;
    document.documentElement.toggleAttribute('data-unkept', !stored.works());
    $('#state-undo').disabled = !job.canUndo();
    const log = Object.entries(s.ticks).filter(([, e]) => e.at).sort((a, b) => b[1].at - a[1].at).slice(0, 200);
    $('#log-count').textContent = `${log.length} of ticks`;
    $('#log').replaceChildren(...log.map(([k, e]) => { const li = document.createElement('li'); li.textContent = `${when(e.at)} ${e.by || 'nobody named'}: ${e.on ? '' : 'not '}${known.get(k) || e.what || k}`; return li; }));
  }
  boxes.forEach(b => b.addEventListener('change', () => {
    job.tick(b.dataset.key, b.checked, b.dataset.what);
    offer(`${b.checked ? 'done' : 'not done'}: ${b.dataset.what}`);
  }));
  job.heard(show); show();

  const took = (other, from) => {
    if (other.job !== job.id && !confirm(`This state is of another job: ${other.title || other.job}. Merge it all the same?`)) return;
    const n = job.merge(other);
    says.textContent = n ? `${from}: ${n} new or changed` : `${from}: nothing new`;
  };
  $('#state-save').addEventListener('click', () => {
    const a = document.createElement('a');
    a.href = URL.createObjectURL(new Blob([file(job.state())], { type: 'application/json' }));
    a.download = 'job-state.json'; a.click();
    setTimeout(() => URL.revokeObjectURL(a.href), 10000);
    says.textContent = 'saved as job-state.json; `maskloft tape --measured job-state.json` reads it';
  });
  $('#state-open').addEventListener('change', async e => {
    const f = e.target.files[0];
    if (!f) return;
    try { if (f.size > 5e6) throw new Error('the file is too large'); took(checked(JSON.parse(await f.text())), f.name); } catch (err) { says.textContent = `${f.name}: ${err instanceof SyntaxError ? 'this is no JSON' : err.message}`; }
    e.target.value = '';
  });
  $('#state-copy').addEventListener('click', async () => {
    $('#state-field').hidden = false; $('#state-label').textContent = 'send this text to the other device, and merge it there';
    text.value = pack(job.state()); text.focus(); text.select();
    try { await navigator.clipboard.writeText(text.value); says.textContent = 'copied'; } catch { says.textContent = 'select it and copy'; }
  });
  $('#state-merge').addEventListener('click', () => {
    if ($('#state-field').hidden) { $('#state-field').hidden = false; $('#state-label').textContent = 'paste the text of the other device, and press merge again'; text.value = ''; text.focus(); return; }
    try { took(unpack(text.value, job.id), 'text'); } catch (err) { says.textContent = err.message; }
  });
})();
