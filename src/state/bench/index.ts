export * from './bench.svelte';
export * from './line-file';
export * from './wish';
export type { WrittenNote } from './written';
