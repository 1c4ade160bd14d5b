// The view in three dimensions: camera, buttons, keys and what a touch tells.
(() => {
  const $id = id => document.getElementById(id), data = JSON.parse($id('scene').textContent), canvas = $id('three-view'), says = $id('three-says');
  $id('three-box').hidden = false;
  let render;
  try {
    render = new THREE.WebGLRenderer({ canvas, antialias: true, preserveDrawingBuffer: true });
  } catch (e) {
    canvas.hidden = true; says.textContent = 'This browser cannot draw in three dimensions (no WebGL). Everything else in this book does without.';
    return;
  }
  render.localClippingEnabled = true;
  render.setPixelRatio(Math.min(2, devicePixelRatio || 1));
  const scene = new THREE.Scene(); scene.background = new THREE.Color('#e4e8e8');
  const camera = new THREE.PerspectiveCamera(30, 1, 1, 20000);
  scene.add(new THREE.HemisphereLight('#ffffff', '#8f9a9f', 1.9));
  const sun = new THREE.DirectionalLight('#ffffff', 1.1); scene.add(sun);
  const { all, frames, tapes, points, marks, cuts, facing, seenAt, strainOf } = sceneParts(data);
  scene.add(all);
  const box = new THREE.Box3();
  all.children.forEach(o => box.expandByObject(o)); // the profile too
  const mid = box.getCenter(new THREE.Vector3()), whole = box.getSize(new THREE.Vector3()).length();
  const controls = new THREE.OrbitControls(camera, canvas);

  function draw() {
    const w = canvas.clientWidth, h = canvas.clientHeight, ratio = render.getPixelRatio();
    if (!w || !h) return;
    if (canvas.width !== Math.floor(w * ratio) || canvas.height !== Math.floor(h * ratio)) { render.setSize(w, h, false); camera.aspect = w / h; camera.updateProjectionMatrix(); }
    sun.position.copy(camera.position).add(new THREE.Vector3(0, whole / 3, 0));
    facing(camera, h); render.render(scene, camera); named(w, h);
    canvas.dataset.drawn = '1';
  }
  // names of markings that face the eye, and readings of the tapes shown
  const names = $id('three-names'), v = new THREE.Vector3();
  const tags = marks.map((m, i) => { const s = document.createElement('span'); s.textContent = data.marks[i].id; names.append(s); return { s, at: m.middle, outwards: m.outwards, below: (data.marks[i].field[3] - data.marks[i].field[1]) / 2, shown: () => true }; });
  // a reading stands on its tape, about the middle or wherever it covers no other name
  data.tapes.forEach((t, i) => {
    const s = document.createElement('span'), path = t.p, n = path.length / 3 - 1; s.className = 'tape'; s.textContent = t.says; names.append(s);
    const on = part => { const k = Math.min(n - 1, Math.floor(part * n)), f = part * n - k, at = j => path[3 * k + j] + (path[3 * k + 3 + j] - path[3 * k + j]) * f; return new THREE.Vector3(at(0), at(2), -at(1)); };
    tags.push({ s, places: [.5, .65, .35, .8, .2].map(on), at: on(.5), tape: true, shown: () => tapes.children[i].visible });
  });
  function named(w, h) {
    const placed = [];
    tags.sort((a, b) => !!b.tape - !!a.tape || a.at.distanceTo(camera.position) - b.at.distanceTo(camera.position));
    for (const t of tags) {
      const half = t.s.textContent.length * 3.9 + 6;
      // of names that would cover each other the nearest is shown, a reading before others
      const free = at => {
        v.copy(camera.position).sub(at);
        if (t.outwards && v.dot(t.outwards) <= 0 || cuts.some(c => c.distanceToPoint(at) < -.01)) return null;
        v.copy(at).project(camera);
        const x = (v.x + 1) / 2 * w, y = (1 - v.y) / 2 * h + (t.below ? Math.min(h / 3, t.below / (camera.position.distanceTo(at) * Math.tan(camera.fov * Math.PI / 360)) * h / 2 + 10) : 0);
        return Math.abs(v.x) < 1 && Math.abs(v.y) < 1 && v.z < 1 && x > half && x < w - half && !placed.some(p => Math.abs(p[0] - x) < p[2] + half && Math.abs(p[1] - y) < 20) ? [x, y] : null;
      };
      let on = null;
      if (t.shown()) for (const at of t.places || [t.at]) if (on ||= free(at)) break;
      t.s.hidden = !on;
      if (on) { placed.push([...on, half]); t.s.style.left = `${on[0]}px`; t.s.style.top = `${on[1]}px`; }
    }
  }
  // look from a direction at a box, or at all that is drawn, from as far as shows it whole
  const every = [];
  all.traverse(o => { const p = o.geometry && o.geometry.attributes.position; if (p && !points.children.includes(o) && !tapes.children.includes(o)) for (let i = 0; i < p.count; i += 3) every.push(new THREE.Vector3().fromBufferAttribute(p, i).applyMatrix4(o.matrixWorld)); });
  const look = (x, y, z, at) => {
    const b = at || box, c = b.getCenter(new THREE.Vector3()), d = new THREE.Vector3(x, y, z).normalize();
    const wide = canvas.clientWidth / Math.max(1, canvas.clientHeight), tan = Math.tan(camera.fov * Math.PI / 360);
    const right = new THREE.Vector3(0, 1, 0).cross(d).normalize(), up = d.clone().cross(right);
    let far = 0;
    const corners = at ? Array.from({ length: 8 }, (_, i) => new THREE.Vector3(i & 1 ? b.max.x : b.min.x, i & 2 ? b.max.y : b.min.y, i & 4 ? b.max.z : b.min.z)) : every;
    for (const q of corners) {
      const p = q.clone().sub(c);
      far = Math.max(far, p.dot(d) + Math.abs(p.dot(up)) / tan, p.dot(d) + Math.abs(p.dot(right)) / (tan * wide));
    }
    controls.target.copy(c); camera.position.copy(c).addScaledVector(d, far * 1.06); controls.update(); draw();
  };
  controls.addEventListener('change', draw); addEventListener('resize', draw);

  const on = (id, f) => $id(id).addEventListener('click', e => { const b = e.currentTarget, v = b.getAttribute('aria-pressed') !== 'true'; b.setAttribute('aria-pressed', String(v)); f(v); draw(); });
  on('three-strain', v => { marks.forEach(m => { m.mesh.material = v ? strainOf(m) : m.paint; }); $id('three-legend').hidden = !v; });
  // the tapes of one point, with what they read
  const point = $id('three-tapes');
  [...new Set(data.tapes.map(t => t.pt))].forEach(id => point.add(new Option(id, id)));
  const taped = () => { tapes.children.forEach(o => { o.visible = o.userData.pt === point.value; }); draw(); };
  point.addEventListener('change', () => {
    taped();
    const own = tapes.children.filter(o => o.visible);
    if (!own.length) return;
    const b = new THREE.Box3(); own.forEach(o => b.expandByObject(o)); b.expandByScalar(Math.max(4, b.getSize(new THREE.Vector3()).length() * .09)); // the names of hardpoints too
    const [x, y, z] = data.marks[own[0].userData.m].out;
    says.textContent = `${point.value}: ${own.map(o => o.userData.says).join(', ')}`; look(x, Math.max(-.98, Math.min(.98, z)), -y + (x || y ? 0 : .02), b);
  });
  on('three-frames', v => { frames.visible = points.visible = v; });
  const end = (data.strain * 100).toPrecision(2) + ' %';
  const bar = $id('three-scale'), paint = bar.getContext('2d');
  for (let i = 0; i < bar.width; i++) { paint.fillStyle = `rgb(${strainColour(2 * i / (bar.width - 1) - 1).join(' ')})`; paint.fillRect(i, 0, 1, 1); }
  $id('three-least').textContent = 'squeezed ' + end; $id('three-most').textContent = 'stretched ' + end;
  const views = { left: [0, .12, 1], right: [0, .12, -1], quarter: [-.7, .45, .9], above: [0, 1, .02] };
  for (const [name, d] of Object.entries(views)) $id('three-' + name).addEventListener('click', () => look(...d));

  // one marking: looked at from outside, with its own tapes
  const pick = $id('three-mark');
  data.marks.forEach((m, i) => pick.add(new Option(m.id, String(i))));
  const tell = m => {
    says.textContent = m.id + ', ' + m.says + ': ';
    const a = document.createElement('a'); a.href = '#m-' + m.id; a.textContent = 'its figures'; says.appendChild(a);
  };
  pick.addEventListener('change', () => {
    const only = pick.value === '' ? -1 : +pick.value;
    if (only < 0) { says.textContent = 'All markings.'; look(...views.quarter); return; }
    const b = new THREE.Box3().setFromObject(marks[only].mesh), [x, y, z] = data.marks[only].out;
    tell(data.marks[only]); b.expandByScalar(b.getSize(new THREE.Vector3()).length() * .35); look(x, Math.max(-.98, Math.min(.98, z)), -y + (x || y ? 0 : .02), b);
  });
  // the wheel turns the page until the view was touched or chosen
  canvas.addEventListener('wheel', e => { if (!e.ctrlKey && document.activeElement !== canvas) e.stopImmediatePropagation(); }, { capture: true });
  let down = null;
  canvas.addEventListener('pointerdown', e => { down = [e.clientX, e.clientY]; });
  canvas.addEventListener('pointerup', e => {
    if (!down || Math.hypot(e.clientX - down[0], e.clientY - down[1]) > 6) return;
    const r = canvas.getBoundingClientRect(), o = seenAt((e.clientX - r.left) / r.width * 2 - 1, 1 - (e.clientY - r.top) / r.height * 2, camera);
    if (o && o.userData.id) tell(o.userData);
  });

  const cut = (id, plane, lo, hi, axis) => {
    const s = $id(id); s.min = lo; s.max = hi; s.value = hi;
    s.addEventListener('input', () => {
      const off = +s.value >= hi;
      plane.constant = off ? 1e6 : +s.value;
      $id(id + '-out').textContent = off ? 'whole' : axis + ' ' + Math.round(s.value); draw();
    });
  };
  cut('three-fs', cuts[0], Math.floor(box.min.x), Math.ceil(box.max.x), 'FS');
  cut('three-wl', cuts[1], Math.floor(box.min.y), Math.ceil(box.max.y), 'WL');
  canvas.addEventListener('keydown', e => {
    const turn = { ArrowLeft: [-.15, 0, 1], ArrowRight: [.15, 0, 1], ArrowUp: [0, .12, 1], ArrowDown: [0, -.12, 1], '+': [0, 0, .85], '=': [0, 0, .85], '-': [0, 0, 1 / .85] }[e.key];
    if (!turn || e.ctrlKey || e.metaKey || e.altKey) return;
    e.preventDefault();
    const d = camera.position.clone().sub(controls.target), r = Math.hypot(d.x, d.z), a = Math.atan2(d.z, d.x) + turn[0], up = Math.max(-1.5, Math.min(1.5, Math.atan2(d.y, r) + turn[1])), len = d.length() * turn[2];
    camera.position.set(controls.target.x + len * Math.cos(up) * Math.cos(a), controls.target.y + len * Math.sin(up), controls.target.z + len * Math.cos(up) * Math.sin(a));
    controls.update(); draw();
  });
  look(...views.quarter);
  canvas.focus({ preventScroll: true });
})();
