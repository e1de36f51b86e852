export * from './random';
export * from './tonal';
export * from './types';
export * from './units';
