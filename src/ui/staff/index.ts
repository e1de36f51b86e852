export { default as Staff } from './Staff.svelte';
export { fetched } from './fetched';
