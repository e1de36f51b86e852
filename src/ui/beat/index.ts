export { default as BeatPanel } from './BeatPanel.svelte';
export { default as ScaleChoice } from './ScaleChoice.svelte';
