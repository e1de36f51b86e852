export * from './cost-model';
export * from './devices';
export * from './features';
export * from './gentle';
export * from './lattice';
export * from './line';
export { reasonFor, type NamedNote } from './reasons';
export * from './report';
export * from './types';
