export * from './candidates';
export * from './stays';
export * from './wishes';
