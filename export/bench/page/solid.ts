// The aircraft in three dimensions: every skin from its net, turned by a drag; touching a
// marking selects it.
import type { Bench } from './bench.ts';
import { coatOf } from './coat.ts';
import { h } from './dom.ts';
import { inside } from './outline.ts';
import { cellsOf, pointAt } from './skin.ts';
import { cross, dot, sub, unit, type Vec } from './vec.ts';

export function solid(bench: Bench, root: HTMLElement): void {
  const canvas = h('canvas', { width: 262, height: 112, tabindex: 0, role: 'img', 'aria-label': 'The aircraft in three dimensions; arrows turn it' });
  root.append(h('span', { class: 'insetname', 'aria-hidden': true }, '3D'), canvas);
  let yaw = 0.5, pitch = 0.35, drawn = '', from: [number, number, number, number] | null = null, far = 0;
  let hits: { id: string; side: string; lines: number[][][] }[] = [];

  const draw = () => {
    const { model, state } = bench, style = getComputedStyle(root), w = root.clientWidth, high = root.clientHeight;
    if (!w || !model.skins.length) return;
    const key = [yaw, pitch, w, high, model.hash, state.theme, [...model.outlines.values()].length, state.selected.join()].join('|');
    if (key === drawn) return;
    drawn = key;
    const dense = devicePixelRatio || 1;
    canvas.width = w * dense; canvas.height = high * dense;
    const c = canvas.getContext('2d')!;
    c.scale(dense, dense);
    c.clearRect(0, 0, w, high);
    const cy = Math.cos(yaw), sy = Math.sin(yaw), cp = Math.cos(pitch), sp = Math.sin(pitch);
    // from the left, fore and above: x to the right, depth towards the eye
    const turn = (p: Vec): Vec => { const x = p[0] * cy - p[1] * sy, d = -p[0] * sy - p[1] * cy; return [x, p[2] * cp - d * sp, d * cp + p[2] * sp]; };
    const all: Vec[] = [];
    for (const m of model.meshes.values()) for (const r of [0, m.rows - 1]) for (let k = 0; k < m.cols; k += 4) all.push(turn(pointAt(m, r, k)));
    for (const m of model.meshes.values()) for (let r = 0; r < m.rows; r += Math.max(1, m.rows >> 3)) for (const k of [0, m.cols >> 2, m.cols >> 1, m.cols - 1]) all.push(turn(pointAt(m, r, k)));
    const x0 = Math.min(...all.map(p => p[0])), x1 = Math.max(...all.map(p => p[0])), y0 = Math.min(...all.map(p => p[1])), y1 = Math.max(...all.map(p => p[1]));
    const k = Math.min((w - 30) / (x1 - x0), (high - 26) / (y1 - y0));
    const at = (p: Vec): [number, number] => [w / 2 + (p[0] - (x0 + x1) / 2) * k, high / 2 + 4 - (p[1] - (y0 + y1) / 2) * k];
    const faces: { depth: number; points: [number, number][]; shade: number; fill: string }[] = [];
    const plain = style.getPropertyValue('--skin').trim() || '#e3e5dc', coat = (surface: string) => state.theme !== 'sunlight' && coatOf(model, surface) || plain;
    for (const skin of model.skins) { // a plate is its outline, on both sides
      for (const o of skin.outlines) {
        const y = pointAt(model.meshes.get(skin.id)!, 0, 0)[1], turned = o.map(p => turn([p[0], y, p[1]]));
        faces.push({ depth: turned.reduce((sum, p) => sum + p[2], 0) / turned.length, points: turned.map(at), shade: Math.abs(dot([0, 1, 0], unit([-0.3, -0.5, 0.8]))), fill: coat(skin.surface) });
      }
    }
    for (const m of model.meshes.values()) {
      const skin = model.skins.find(k => k.id === m.id)!, fill = coat(skin.surface);
      if (skin.outlines.length) continue;
      const rs = Math.max(1, Math.floor(m.rows / 24)), ks = Math.max(1, Math.floor(m.cols / 32)), cells = cellsOf(m);
      for (let r = 0; r + 1 < m.rows; r += rs) for (let q = 0; q < cells; q += ks) {
        const r1 = Math.min(m.rows - 1, r + rs), q1 = Math.min(cells, q + ks);
        const quad = [pointAt(m, r, q), pointAt(m, r, q1), pointAt(m, r1, q1), pointAt(m, r1, q)];
        const n = unit(cross(sub(quad[2], quad[0]), sub(quad[1], quad[3]))), turned = quad.map(turn);
        faces.push({ depth: turned.reduce((sum, p) => sum + p[2], 0) / 4, points: turned.map(at), shade: Math.abs(dot(n, unit([-0.3, -0.5, 0.8]))), fill });
      }
    }
    faces.sort((a, b) => a.depth - b.depth);
    const ink = style.getPropertyValue('--ink').trim() || '#1c2328', line = style.getPropertyValue('--edge').trim() || '#747f85';
    for (const f of faces) {
      c.beginPath();
      f.points.forEach((p, i) => i ? c.lineTo(...p) : c.moveTo(...p));
      c.closePath();
      c.fillStyle = f.fill; c.fill();
      c.globalAlpha = 0.22 * (1 - f.shade); c.fillStyle = ink; c.fill();
      c.globalAlpha = 0.35; c.strokeStyle = f.fill; c.lineWidth = 0.6; c.stroke(); c.globalAlpha = 1;
    }
    c.strokeStyle = line; c.lineWidth = 0.6;
    for (const l of model.scene?.stations ?? []) { c.beginPath(); l.points.forEach((p, i) => { const q = at(turn(p as Vec)); if (turn(p as Vec) && i) c.lineTo(...q); else c.moveTo(...q); }); c.globalAlpha = 0.5; c.stroke(); c.globalAlpha = 1; }
    hits = [];
    for (const m of model.markings) for (const placed of m.placed) {
      if (turn(placed.out as Vec)[2] <= 0.05) continue;
      const lines: number[][][] = [];
      for (const o of model.outlines.get(m.id)?.list.filter(o => o.id === placed.id) ?? []) {
        c.beginPath();
        for (const ring of o.lines) { const points = ring.map(p => at(turn(p as Vec))); lines.push(points); points.forEach((p, i) => i ? c.lineTo(...p) : c.moveTo(...p)); c.closePath(); }
        c.fillStyle = o.hex; c.fill('evenodd');
        if (state.selected.includes(m.id)) { c.strokeStyle = style.getPropertyValue('--accent').trim(); c.lineWidth = 1.2; c.stroke(); }
      }
      hits.push({ id: m.id, side: placed.side, lines });
    }
  };

  canvas.addEventListener('pointerdown', e => { from = [e.clientX, e.clientY, yaw, pitch]; far = 0; canvas.setPointerCapture(e.pointerId); });
  canvas.addEventListener('pointermove', e => {
    if (!from) return;
    far = Math.max(far, Math.hypot(e.clientX - from[0], e.clientY - from[1]));
    if (far < 4) return;
    yaw = from[2] + (e.clientX - from[0]) * 0.01;
    pitch = Math.max(-1.5, Math.min(1.5, from[3] + (e.clientY - from[1]) * 0.01));
    draw();
  });
  canvas.addEventListener('pointerup', e => {
    if (from && far < 4) {
      const r = canvas.getBoundingClientRect(), x = e.clientX - r.left, y = e.clientY - r.top;
      const hit = hits.find(t => t.lines.length && (inside(t.lines, x, y) || t.lines.some(l => l.some(p => Math.hypot(p[0] - x, p[1] - y) < 5))));
      if (hit) bench.select([hit.id], hit.side as 'left' | 'right');
    }
    from = null;
  });
  canvas.addEventListener('keydown', e => {
    const by: Record<string, [number, number]> = { ArrowLeft: [-0.1, 0], ArrowRight: [0.1, 0], ArrowUp: [0, -0.1], ArrowDown: [0, 0.1] };
    if (!by[e.key]) return;
    e.preventDefault(); e.stopPropagation();
    yaw += by[e.key][0]; pitch = Math.max(-1.5, Math.min(1.5, pitch + by[e.key][1]));
    draw();
  });
  bench.panel(draw);
}
