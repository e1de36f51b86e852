export * from './path';
export { default as TravelStrip } from './TravelStrip.svelte';
