export * from './cost-model';
export * from './features';
export * from './gentle';
export * from './lattice';
export * from './line';
export { reasonFor, type Ahead } from './reasons';
export * from './report';
export * from './roles';
export * from './types';
