export { default as Staff } from './Staff.svelte';
