export * from './lattice';
export * from './minimum';
export * from './sample';
