export * from './bench.svelte';
export * from './wish';
