export * from './bench.svelte';
export * from './line-file';
export * from './wish';
export type { MarkedNote } from './written';
