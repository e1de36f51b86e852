export { assign, type Assignment } from './assignment';
export * from './grounds';
export * from './ids';
export * from './layers';
export * from './ways';
export * from './lesson';
export * from './carried';
export * from './round';
