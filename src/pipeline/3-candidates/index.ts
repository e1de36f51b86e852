export * from './candidates';
export * from './stays';
export * from './thumb';
export * from './wishes';
