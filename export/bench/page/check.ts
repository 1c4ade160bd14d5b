import type { Bench } from './bench.ts';
export function check(_bench: Bench, _root: HTMLElement): void {}
