export * from './cards';
export * from './day';
export * from './deck';
export * from './in-line';
export * from './star-counts.svelte';
export * from './lessons.svelte';
export * from './ways.svelte';
export { lessonRange, type LessonValues } from './schema';
export * from './lesson-desk.svelte';
