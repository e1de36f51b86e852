export * from './cost-model';
export * from './features';
export * from './lattice';
export * from './line';
export * from './report';
export * from './roles';
export * from './types';
