'use strict';
// The parts of the view in three dimensions. Axes of the aircraft: x aft, y to the
// pilot's right, z up; of the picture: y up, so that z becomes y and y becomes -z.
const sceneParts = data => {
  const at = (a, i) => [a[3 * i], a[3 * i + 2], -a[3 * i + 1]];
  // coordinates of grids come in hundredths, as steps from point to point
  for (const m of [...data.skins, ...data.marks]) {
    for (let i = 3; i < m.p.length; i++) m.p[i] += m.p[i - 3];
    m.p = m.p.map(v => v / 100);
  }
  // what lies aft of the station and above the waterline of the cut is left out
  const cuts = [new THREE.Plane(new THREE.Vector3(-1, 0, 0), 1e6), new THREE.Plane(new THREE.Vector3(0, -1, 0), 1e6)];
  const all = new THREE.Group(), frames = new THREE.Group(), tapes = new THREE.Group(), points = new THREE.Group();
  all.add(frames, tapes, points);
  const positions = p => { const out = new Float32Array(p.length); for (let i = 0; i < p.length / 3; i++) out.set(at(p, i), 3 * i); return new THREE.BufferAttribute(out, 3); };
  const mesh = (m, material) => {
    const index = [];
    for (let r = 0; r + 1 < m.rows; r++) for (let c = 0; c + 1 < m.cols; c++) {
      const a = r * m.cols + c, b = a + 1, d = a + m.cols, e = d + 1;
      index.push(a, b, e, a, e, d);
    }
    const g = new THREE.BufferGeometry();
    g.setAttribute('position', positions(m.p)); g.setIndex(index); g.computeVertexNormals();
    return new THREE.Mesh(g, material);
  };
  const line = (p, material) => { const g = new THREE.BufferGeometry(); g.setAttribute('position', positions(p)); return new THREE.Line(g, material); };
  const drawn = color => new THREE.LineBasicMaterial({ color, clippingPlanes: cuts });

  const inks = new Map(), skin = color => { if (!inks.has(color)) inks.set(color, new THREE.MeshLambertMaterial({ color, side: THREE.DoubleSide, clippingPlanes: cuts, polygonOffset: true, polygonOffsetFactor: 1, polygonOffsetUnits: 1 })); return inks.get(color); };
  data.skins.forEach(m => all.add(mesh(m, skin(m.c))));
  data.plates.forEach(p => {
    const shape = new THREE.Shape();
    p.o.forEach((q, i) => i ? shape.lineTo(q[0], q[1]) : shape.moveTo(q[0], q[1]));
    for (const y of [p.y, -p.y]) { const one = new THREE.Mesh(new THREE.ShapeGeometry(shape), skin(p.c)); one.position.z = y; all.add(one); }
  });
  const structure = drawn('#6d7b82'), outline = drawn('#98a3a8');
  data.frames.forEach(p => frames.add(line(p, structure)));
  data.profile.forEach(p => all.add(line(p, outline)));

  // a marking is a patch a little off the skin, painted from its own outlines, and seen
  // from outside alone
  const across = data.marks.length > 16 ? 512 : 1024;
  const canvasOf = (m, draw) => {
    const c = document.createElement('canvas'); c.width = c.height = across;
    const x = c.getContext('2d'), w = m.field[2] - m.field[0], h = m.field[3] - m.field[1];
    x.setTransform(across / w, 0, 0, -across / h, -m.field[0] * across / w, m.field[3] * across / h);
    draw(x, Math.min(Math.max(w, h), 9 * Math.min(w, h)));
    const map = new THREE.CanvasTexture(c); map.colorSpace = THREE.SRGBColorSpace; map.anisotropy = 8;
    return map;
  };
  const marks = data.marks.map(m => {
    const one = mesh(m, null), uv = [], g = one.geometry, mid = Math.floor(m.rows / 2) * m.cols + Math.floor(m.cols / 2);
    const outwards = new THREE.Vector3(m.out[0], m.out[2], -m.out[1]), side = new THREE.Vector3().fromBufferAttribute(g.attributes.normal, mid).dot(outwards) >= 0 ? 0 : 1; /* front or back, by number: the library here is cut down */
    const near = n => ({ side, clippingPlanes: cuts, polygonOffset: true, polygonOffsetFactor: -n, polygonOffsetUnits: -n });
    const paint = new THREE.MeshBasicMaterial({ map: canvasOf(m, x => m.paths.forEach(q => { x.fillStyle = q.c; x.fill(new Path2D(q.d), 'evenodd'); })), transparent: true, alphaTest: 0.02, ...near(2) });
    for (let r = 0; r < m.rows; r++) for (let k = 0; k < m.cols; k++) uv.push(k / (m.cols - 1), r / (m.rows - 1));
    g.setAttribute('uv', new THREE.BufferAttribute(new Float32Array(uv), 2));
    one.material = paint; one.userData = m; one.renderOrder = 1; all.add(one);
    g.computeBoundingSphere();
    return { mesh: one, paint, strained: near(3), outwards, middle: g.boundingSphere.center };
  });

  // the strain of a film, made when it is asked for: the picture of its card, with the
  // outline of the paint over it
  const strainOf = m => m.strain ||= new THREE.MeshBasicMaterial({ ...m.strained, map: canvasOf(m.mesh.userData, (x, size) => {
    const svg = document.getElementById('strain-' + m.mesh.userData.id), rgb = strainColour(0);
    x.fillStyle = `rgb(${rgb.join(' ')})`; x.fillRect(-1e4, -1e4, 2e4, 2e4);
    x.lineJoin = 'round';
    for (const e of svg ? svg.querySelectorAll('.iso') : []) {
      const p = new Path2D(e.getAttribute('d'));
      x.fillStyle = e.getAttribute('fill'); x.fill(p, 'evenodd'); x.lineWidth = size / 400; x.strokeStyle = '#1a1a1a'; x.stroke(p);
    }
    for (const q of m.mesh.userData.paths) { const p = new Path2D(q.d); x.lineWidth = size / 90; x.strokeStyle = '#fff'; x.stroke(p); x.lineWidth = size / 200; x.strokeStyle = '#000'; x.stroke(p); }
    const high = svg ? +svg.querySelector('.levels').getAttribute('font-size') : 0;
    x.textAlign = 'center'; x.font = '600 40px sans-serif'; x.lineWidth = 12; x.strokeStyle = '#fff'; x.fillStyle = '#000'; // far from what browsers take for too small
    for (const e of svg ? svg.querySelectorAll('.levels text') : []) {
      const aside = x.measureText(e.textContent).width / 80 * high, at = +e.getAttribute('x');
      if (at - aside < m.mesh.userData.field[0] || at + aside > m.mesh.userData.field[2]) continue; // it would be cut off
      x.save(); x.translate(+e.getAttribute('x'), -e.getAttribute('y')); x.scale(high / 40, -high / 40);
      x.strokeText(e.textContent, 0, 0); x.fillText(e.textContent, 0, 0); x.restore();
    }
  }) });

  const red = drawn('#a03a1e');
  data.tapes.forEach(t => { const one = line(t.p, red); one.userData = t; one.visible = false; tapes.add(one); });

  // a hardpoint is a dot with its name, of one size on the screen however far it is
  const plate = new THREE.BufferGeometry();
  plate.setAttribute('position', new THREE.BufferAttribute(new Float32Array([-.16, -.25, 0, .84, -.25, 0, .84, .25, 0, -.16, .25, 0]), 3));
  plate.setAttribute('uv', new THREE.BufferAttribute(new Float32Array([0, 0, 1, 0, 1, 1, 0, 1]), 2)); plate.setIndex([0, 1, 2, 0, 2, 3]);
  data.points.forEach(p => {
    const c = document.createElement('canvas'); c.width = 128; c.height = 64;
    const x = c.getContext('2d');
    x.font = '600 34px sans-serif'; x.textBaseline = 'middle'; x.lineWidth = 7; x.strokeStyle = '#fff'; x.fillStyle = '#a03a1e';
    x.beginPath(); x.arc(20, 32, 11, 0, 7); x.stroke(); x.fill();
    x.strokeText(p.id, 40, 33); x.fillText(p.id, 40, 33);
    const map = new THREE.CanvasTexture(c); map.colorSpace = THREE.SRGBColorSpace;
    const one = new THREE.Mesh(plate, new THREE.MeshBasicMaterial({ map, transparent: true, alphaTest: .05, polygonOffset: true, polygonOffsetFactor: -4, polygonOffsetUnits: -400 }));
    one.position.set(...at(p.p, 0)); one.renderOrder = 2; points.add(one);
  });
  const facing = (camera, high) => points.children.forEach(o => {
    o.quaternion.copy(camera.quaternion);
    o.scale.setScalar(o.position.distanceTo(camera.position) * Math.tan(camera.fov * Math.PI / 360) * 2 * 56 / high);
    o.visible = cuts.every(c => c.distanceToPoint(o.position) >= -.01);
  });

  // what is seen at a place of the picture (-1 to 1 each way): the nearest triangle
  const seenAt = (x, y, camera) => {
    let best = null, near = 2;
    const v = new THREE.Vector3();
    for (const o of all.children) {
      if (!o.isMesh || (o.geometry.attributes.uv && !o.userData.id)) continue;
      const p = o.geometry.attributes.position, index = o.geometry.index, on = [];
      for (let i = 0; i < p.count; i++) { v.fromBufferAttribute(p, i).applyMatrix4(o.matrixWorld); const w = v.clone(); v.project(camera); on.push([v.x, v.y, v.z, w]); }
      for (let i = 0; i < index.count; i += 3) {
        const [a, b, c] = [0, 1, 2].map(k => on[index.getX(i + k)]), d = (b[1] - c[1]) * (a[0] - c[0]) + (c[0] - b[0]) * (a[1] - c[1]);
        if (Math.abs(d) < 1e-14) continue;
        const l = ((b[1] - c[1]) * (x - c[0]) + (c[0] - b[0]) * (y - c[1])) / d, m = ((c[1] - a[1]) * (x - c[0]) + (a[0] - c[0]) * (y - c[1])) / d, n = 1 - l - m;
        if (l < 0 || m < 0 || n < 0) continue;
        const z = l * a[2] + m * b[2] + n * c[2], at = a[3].clone().multiplyScalar(l).addScaledVector(b[3], m).addScaledVector(c[3], n);
        if (z < near && z > -1 && cuts.every(q => q.distanceToPoint(at) >= 0)) { near = z; best = o; }
      }
    }
    return best;
  };
  return { all, frames, tapes, points, marks, cuts, facing, seenAt, strainOf };
};
