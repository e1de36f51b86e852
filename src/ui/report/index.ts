export { default as HandReport } from './HandReport.svelte';
