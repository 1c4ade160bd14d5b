import type { Bench } from './bench.ts';
export function place(_bench: Bench, _root: HTMLElement): void {}
