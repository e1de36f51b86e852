export * from './client';
export type { Walk } from './protocol';
