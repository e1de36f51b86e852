export * from './both-ways.svelte';
export * from './line-file';
export * from './wish';
export type { MarkedNote } from './written';
