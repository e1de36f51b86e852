export { default as BeatPanel } from './BeatPanel.svelte';
