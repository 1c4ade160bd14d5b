// Places that a marking is drawn to while it is moved, each with its reason.

export type Axis = 'fs' | 'height';
/** One place on an axis, in inches; of two as near, the lower order is taken. */
export interface Candidate { axis: Axis; at: number; why: string; order: number }

/** The order of reasons: what paint must do first, whole inches last. */
export const orders = { clearance: 0, evidence: 1, other: 2, line: 3, station: 4, neighbour: 5, whole: 6 } as const;

/** Named lines and what lies midway between two of them, by their height at a station. */
export function lineCandidates(lines: { name: string; height: number }[]): Candidate[] {
  const sorted = [...lines].sort((a, b) => b.height - a.height);
  const out: Candidate[] = sorted.map(l => ({ axis: 'height', at: l.height, why: l.name, order: orders.line }));
  for (let i = 0; i < sorted.length; i++) for (let j = i + 1; j < Math.min(sorted.length, i + 3); j++)
    out.push({ axis: 'height', at: (sorted[i].height + sorted[j].height) / 2, why: `midway ${sorted[i].name} ${sorted[j].name}`, order: orders.line });
  return out;
}

/** Stations of sections and ribs. */
export const stationCandidates = (stations: number[]): Candidate[] =>
  stations.map(at => ({ axis: 'fs', at, why: `station ${Number(at.toFixed(3))}`, order: orders.station }));

/** Edges and middles of neighbours: a box is [station0, height0, station1, height1]. */
export function neighbourCandidates(box: [number, number, number, number], others: { name: string; anchor: [number, number]; box: [number, number, number, number] }[]): Candidate[] {
  const out: Candidate[] = [];
  for (const o of others) {
    out.push({ axis: 'height', at: o.anchor[1], why: `level with ${o.name}`, order: orders.neighbour });
    out.push({ axis: 'fs', at: o.anchor[0], why: `under ${o.name}`, order: orders.neighbour });
    // box holds edges as distances from the anchor: an edge on an edge
    out.push({ axis: 'height', at: o.box[3] - box[3], why: `upper edge of ${o.name}`, order: orders.neighbour });
    out.push({ axis: 'height', at: o.box[1] - box[1], why: `lower edge of ${o.name}`, order: orders.neighbour });
  }
  return out;
}

/** The whole inch, or the whole ten millimetres, next to a place. */
export function wholeCandidate(axis: Axis, at: number, unit: 'in' | 'mm'): Candidate {
  const step = unit === 'mm' ? 10 / 25.4 : 1;
  return { axis, at: Math.round(at / step) * step, why: unit === 'mm' ? 'whole 10 mm' : 'whole inch', order: orders.whole };
}

/**
 * The candidate nearest to a place, none farther than `within`. Whole inches stand
 * everywhere, so they are taken only where nothing else is near.
 */
export function choose(all: Candidate[], axis: Axis, at: number, within: number): Candidate | null {
  let best: Candidate | null = null;
  for (const c of all) {
    const far = Math.abs(c.at - at);
    if (c.axis !== axis || far > within) continue;
    if (!best) { best = c; continue; }
    const was = Math.abs(best.at - at);
    const whole = c.order === orders.whole, wasWhole = best.order === orders.whole;
    if (whole !== wasWhole ? wasWhole : far < was - 1e-9 || Math.abs(far - was) <= 1e-9 && c.order < best.order) best = c;
  }
  return best;
}
