import type { Bench } from './bench.ts';
export function film(_bench: Bench, _root: HTMLElement): void {}
