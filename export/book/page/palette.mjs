// One ladder of strain everywhere, dark where film is squeezed, light where it is
// stretched, so that it is told apart in grey as well (L* 14 30 48 64 74 83 94).
export const ladder = ['#10233d', '#23486b', '#4a7893', '#8e9f99', '#bdb88c', '#dccf93', '#f8efc4'];

// The colour of a strain as a part of the most that is shown, -1 to 1: [r, g, b], 0 to 255.
export function strainColour(part) {
  const at = (Math.max(-1, Math.min(1, part)) + 1) / 2 * (ladder.length - 1), i = Math.min(ladder.length - 2, Math.floor(at)), t = at - i;
  const rgb = c => [1, 3, 5].map(k => parseInt(c.slice(k, k + 2), 16));
  const [a, b] = [rgb(ladder[i]), rgb(ladder[i + 1])];
  return a.map((v, k) => Math.round(v + (b[k] - v) * t));
}
