export * from './evening.svelte';
