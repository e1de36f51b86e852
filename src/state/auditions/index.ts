export * from './auditions.svelte';
export * from './drawn';
export * from './figures';
export * from './like';
export * from './order';
export * from './sift';
