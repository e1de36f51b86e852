export * from './lattice';
export * from './minimum';
export * from './sample';
export { boltzmann, exponential } from './weights';
export * from './room';
