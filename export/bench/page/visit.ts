import type { Bench } from './bench.ts';
export function visit(_bench: Bench, _root: HTMLElement): void {}
