import type { Bench } from './bench.ts';
export function photo(_bench: Bench, _root: HTMLElement): void {}
