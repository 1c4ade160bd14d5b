// The view in three dimensions, unpacked when it is opened.
(() => {
  const start = $('#three-start');
  start.hidden = false;
  const run = text => { const s = document.createElement('script'); s.textContent = text; document.body.appendChild(s); };
  start.addEventListener('click', async () => {
    start.disabled = true;
    try {
      const packed = Uint8Array.from(atob($('#three-lib').textContent), c => c.charCodeAt(0));
      run(await new Response(new Blob([packed]).stream().pipeThrough(new DecompressionStream('gzip'))).text());
      start.hidden = true;
      run($('#three-code').textContent);
    } catch {
      start.after(Object.assign(document.createElement('p'), { textContent: 'This browser is too old for the view in three dimensions. Everything else in this book does without.' }));
    }
  });
})();
