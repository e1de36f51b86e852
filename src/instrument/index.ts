export * from './fingerboard';
export * from './hand';
export * from './instruments';
export * from './movement';
export * from './placements';
export * from './positions';
export * from './types';
