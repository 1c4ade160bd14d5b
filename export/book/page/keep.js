// What is kept on this device: the theme, and of each job its ticks and readings. Every
// page that is opened from a folder shares one store, so names carry the job's id and what
// is read back is checked as a stranger's file is.
const stored = (() => {
  const get = k => { try { return localStorage.getItem(k); } catch { return null; } };
  const set = (k, v) => { try { localStorage.setItem(k, v); return true; } catch { return false; } };
  let works = set('maskloft probe', '1');
  try { localStorage.removeItem('maskloft probe'); } catch { works = false; }
  return { get, set: (k, v) => { if (!set(k, v)) works = false; return works; }, works: () => works };
})();

const job = (() => {
  const id = JSON.parse($('#job').textContent), key = 'maskloft job ' + id, title = $('h1').textContent;
  const back = () => { try { return checked(JSON.parse(stored.get(key))); } catch { return empty(id, title); } };
  let state = back();
  state.job = id; state.title = title;
  const heard = new Set(), undone = [];
  const tell = () => heard.forEach(f => f());
  // what another window has put there meanwhile is merged, not overwritten
  const keep = () => { state = { ...merge(state, back()), job: id, title }; stored.set(key, file(state)); tell(); };
  addEventListener('storage', e => { if (e.key === key) { state = { ...merge(state, back()), job: id, title }; tell(); } });
  const now = () => Math.floor(Date.now() / 1000), who = () => $('#who').value.trim();
  return {
    id, state: () => state, heard: f => heard.add(f), keep,
    tick(k, on, what) { undone.push({ k, on: isOn(state, k), what }); state = ticked(state, k, on, who(), what, now()); keep(); },
    read(k, reading) { undone.push({ r: k, was: state.readings[k] || { ...reading, value: null } }); state = read(state, k, reading, who(), now()); keep(); },
    merge(other) { const n = news(state, other); state = { ...merge(state, other), job: id, title }; keep(); return n; },
    canUndo: () => undone.length > 0,
    undo() {
      const u = undone.pop();
      if (!u) return '';
      if (u.k) state = ticked(state, u.k, u.on, who(), u.what, now()); else state = read(state, u.r, u.was, who(), now());
      keep();
      return u.what || 'reading';
    },
  };
})();
