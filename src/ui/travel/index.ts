export * from './path';
export { nameLengthFor } from './words';
export { default as TravelStrip } from './TravelStrip.svelte';
