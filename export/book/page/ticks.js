// Ticks of the steps of work: films cut, points placed, passes sprayed. They are kept
// on this device under the words of their row, so that a figure that changes loses
// its tick; where nothing can be kept they last until the book is closed.
(function () {
  const key = 'job book ' + document.title, boxes = $$('[data-tick]');
  let kept = [];
  try { kept = JSON.parse(localStorage.getItem(key)) || []; } catch { kept = []; }
  if (!Array.isArray(kept)) kept = [];
  const words = b => b.closest('details').id + ' ' + b.closest('tr').textContent.replace(/\s+/g, ' ').trim();
  const on = new Set(kept), names = new Map(boxes.map(b => [b, words(b)]));
  const show = () => {
    boxes.forEach(b => b.closest('tr').classList.toggle('done', b.checked));
    $$('[data-count]').forEach(td => {
      const of = boxes.filter(b => b.dataset.tick === td.dataset.count);
      td.textContent = of.filter(b => b.checked).length + ' of ' + of.length;
    });
    $('#ticks-tools').hidden = !boxes.some(b => b.checked);
  };
  const keep = () => {
    try { localStorage.setItem(key, JSON.stringify(boxes.filter(b => b.checked).map(b => names.get(b)))); } catch { /* not kept */ }
    show();
  };
  boxes.forEach(b => { b.checked = on.has(names.get(b)); b.addEventListener('change', keep); });
  $('#ticks-clear').addEventListener('click', () => { if (confirm('Clear all ticks of this book?')) { boxes.forEach(b => { b.checked = false; }); keep(); } });
  show();
})();

// The view in three dimensions, loaded when it is opened.
(function () {
  const start = $('#three-start');
  start.hidden = false;
  start.addEventListener('click', () => {
    start.hidden = true;
    for (const id of ['three-lib', 'three-code']) {
      const s = document.createElement('script');
      s.textContent = document.getElementById(id).textContent.replaceAll('<\\/script', '</' + 'script');
      document.body.appendChild(s);
    }
  });
})();
