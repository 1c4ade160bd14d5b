// Placing over the whole screen.
(() => {
  const data = JSON.parse($('#place-data').textContent), box = $('#placing');
  if (!data.markings.some(m => m.points.length)) return;
  $('#place-start').hidden = false;
  $$('[data-scripted]').forEach(e => { e.hidden = false; });
  let view = null, lock = null;
  const awake = async () => { try { lock = await navigator.wakeLock.request('screen'); } catch { lock = null; } };
  document.addEventListener('visibilitychange', () => { if (!document.hidden && box.open) awake(); });
  const close = () => { box.close(); };
  box.addEventListener('close', () => { if (lock) lock.release(); lock = null; view = null; box.replaceChildren(); });
  const open = marking => {
    const unit = stored.get('maskloft unit') || data.unit;
    box.showModal();
    view = placeView(box, { data, marking, unit: unit === 'mm' ? 'mm' : 'in', setUnit: u => stored.set('maskloft unit', u), state: job.state, tick: job.tick, read: job.read, picture: id => document.querySelector(`#${CSS.escape(id)} svg`), close });
    awake();
  };
  job.heard(() => { if (view && !box.contains(document.activeElement)) view.draw(); });
  addEventListener('resize', () => { if (view) view.draw(); });
  for (const id of ['place-start', 'place-here']) $('#' + id).addEventListener('click', () => open());
  $$('[data-place]').forEach(b => b.addEventListener('click', () => open(b.dataset.place)));
})();
