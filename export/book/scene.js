'use strict';
(function () {
  const data = JSON.parse(document.getElementById('scene').textContent), canvas = document.getElementById('three-view');
  document.getElementById('three-box').hidden = false;
  const render = new THREE.WebGLRenderer({ canvas, antialias: true, preserveDrawingBuffer: true });
  render.localClippingEnabled = true;
  const scene = new THREE.Scene(); scene.background = new THREE.Color('#dfe5e8');
  const camera = new THREE.PerspectiveCamera(35, 1, 1, 20000);
  scene.add(new THREE.HemisphereLight('#ffffff', '#8a979e', 1.6));
  const sun = new THREE.DirectionalLight('#ffffff', 1.4); scene.add(sun);
  const all = new THREE.Group(); scene.add(all);
  // axes of the aircraft: x aft, y to the pilot's right, z up; of the picture: y up
  const at = (a, i) => [a[3 * i], a[3 * i + 2], -a[3 * i + 1]];
  const cuts = [new THREE.Plane(new THREE.Vector3(-1, 0, 0), 1e6), new THREE.Plane(new THREE.Vector3(0, -1, 0), 1e6)];
  const grid = (m, material) => {
    const pos = [], index = [];
    for (let i = 0; i < m.p.length / 3; i++) pos.push(...at(m.p, i));
    for (let r = 0; r + 1 < m.rows; r++) for (let c = 0; c + 1 < m.cols; c++) {
      const a = r * m.cols + c, b = a + 1, d = a + m.cols, e = d + 1;
      index.push(a, b, e, a, e, d);
    }
    const g = new THREE.BufferGeometry();
    g.setAttribute('position', new THREE.BufferAttribute(new Float32Array(pos), 3));
    g.setIndex(index); g.computeVertexNormals();
    const mesh = new THREE.Mesh(g, material); all.add(mesh); return mesh;
  };
  const skin = new THREE.MeshLambertMaterial({ color: '#d9dccf', side: THREE.DoubleSide, clippingPlanes: cuts });
  data.skins.forEach(m => grid(m, skin));
  data.plates.forEach(p => {
    const shape = new THREE.Shape();
    p.o.forEach((q, i) => i ? shape.lineTo(q[0], q[1]) : shape.moveTo(q[0], q[1]));
    for (const y of [p.y, -p.y]) { const mesh = new THREE.Mesh(new THREE.ShapeGeometry(shape), skin); mesh.position.z = y; all.add(mesh); }
  });
  // a marking is a patch a little off the skin, painted from its own outlines
  const patches = data.marks.map(m => {
    const c = document.createElement('canvas'); c.width = c.height = 1024;
    const x = c.getContext('2d'), w = m.field[2] - m.field[0], h = m.field[3] - m.field[1];
    x.setTransform(1024 / w, 0, 0, -1024 / h, -m.field[0] * 1024 / w, m.field[3] * 1024 / h);
    m.paths.forEach(q => { x.fillStyle = q.c; x.fill(new Path2D(q.d), 'evenodd'); });
    const map = new THREE.CanvasTexture(c); map.colorSpace = THREE.SRGBColorSpace; map.anisotropy = 8;
    const paint = new THREE.MeshLambertMaterial({ map, transparent: true, side: THREE.DoubleSide, clippingPlanes: cuts, polygonOffset: true, polygonOffsetFactor: -2, polygonOffsetUnits: -2 });
    const strain = new THREE.MeshBasicMaterial({ vertexColors: true, side: THREE.DoubleSide, clippingPlanes: cuts, polygonOffset: true, polygonOffsetFactor: -3, polygonOffsetUnits: -3 });
    const mesh = grid(m, paint), uv = [], col = [], lo = new THREE.Color('#2b5fa8'), mid = new THREE.Color('#f2f2ee'), hi = new THREE.Color('#b03a1e');
    for (let r = 0; r < m.rows; r++) for (let k = 0; k < m.cols; k++) {
      uv.push(k / (m.cols - 1), r / (m.rows - 1));
      const s = Math.max(-1, Math.min(1, m.s[r * m.cols + k] / data.strain)), q = mid.clone().lerp(s < 0 ? lo : hi, Math.abs(s));
      col.push(q.r, q.g, q.b);
    }
    mesh.geometry.setAttribute('uv', new THREE.BufferAttribute(new Float32Array(uv), 2));
    mesh.geometry.setAttribute('color', new THREE.BufferAttribute(new Float32Array(col), 3));
    return { mesh, paint, strain };
  });
  const tapes = new THREE.Group(); all.add(tapes);
  data.tapes.forEach(t => {
    const g = new THREE.BufferGeometry(), pos = [];
    for (let i = 0; i < t.length / 3; i++) pos.push(...at(t, i));
    g.setAttribute('position', new THREE.BufferAttribute(new Float32Array(pos), 3));
    tapes.add(new THREE.Line(g, new THREE.LineBasicMaterial({ color: '#a03a1e', clippingPlanes: cuts })));
  });
  tapes.visible = false;
  const box = new THREE.Box3().setFromObject(all), mid = box.getCenter(new THREE.Vector3()), size = box.getSize(new THREE.Vector3()).length();
  const controls = new THREE.OrbitControls(camera, canvas);
  controls.target.copy(mid);
  const look = (x, y, z) => { camera.position.set(mid.x + x * size, mid.y + y * size, mid.z + z * size); controls.update(); draw(); };
  function draw() {
    const w = canvas.clientWidth, h = canvas.clientHeight;
    if (canvas.width !== w || canvas.height !== h) { render.setSize(w, h, false); camera.aspect = w / h; camera.updateProjectionMatrix(); }
    sun.position.copy(camera.position).add(new THREE.Vector3(0, size / 3, 0));
    render.render(scene, camera);
    canvas.dataset.drawn = '1';
  }
  controls.addEventListener('change', draw); addEventListener('resize', draw);
  const on = (id, f) => document.getElementById(id).addEventListener('click', e => { const b = e.currentTarget, v = b.getAttribute('aria-pressed') !== 'true'; b.setAttribute('aria-pressed', String(v)); f(v); draw(); });
  on('three-strain', v => { patches.forEach(p => { p.mesh.material = v ? p.strain : p.paint; }); document.getElementById('three-legend').hidden = !v; });
  on('three-tapes', v => { tapes.visible = v; });
  document.getElementById('three-left').addEventListener('click', () => look(0, .1, 1.3));
  document.getElementById('three-right').addEventListener('click', () => look(0, .1, -1.3));
  document.getElementById('three-quarter').addEventListener('click', () => look(-.7, .5, .9));
  const cut = (id, plane, lo, hi, axis) => {
    const s = document.getElementById(id); s.min = lo; s.max = hi; s.value = hi;
    s.addEventListener('input', () => { plane.constant = +s.value + (+s.value >= hi ? 1e6 : 0); document.getElementById(id + '-out').textContent = +s.value >= hi ? 'whole' : axis + ' ' + Math.round(s.value); draw(); });
  };
  cut('three-fs', cuts[0], Math.floor(box.min.x), Math.ceil(box.max.x), 'FS');
  cut('three-wl', cuts[1], Math.floor(box.min.y), Math.ceil(box.max.y), 'WL');
  canvas.addEventListener('keydown', e => {
    const turn = { ArrowLeft: [-.15, 0], ArrowRight: [.15, 0], ArrowUp: [0, .12], ArrowDown: [0, -.12] }[e.key];
    if (!turn) return;
    e.preventDefault();
    const d = camera.position.clone().sub(controls.target), r = Math.hypot(d.x, d.z), a = Math.atan2(d.z, d.x) + turn[0], up = Math.max(-1.4, Math.min(1.4, Math.atan2(d.y, r) + turn[1])), len = d.length();
    camera.position.set(controls.target.x + len * Math.cos(up) * Math.cos(a), controls.target.y + len * Math.sin(up), controls.target.z + len * Math.cos(up) * Math.sin(a));
    controls.update(); draw();
  });
  look(-.7, .5, .9);
  canvas.focus();
})();
