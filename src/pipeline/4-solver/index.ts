export * from './conditional';
export * from './lattice';
export { backwardSums, forwardSums, throughCosts, type Sums } from './minimum';
export * from './resolve';
export * from './room';
export * from './sample';
export * from './trace';
export { boltzmann, exponential } from './weights';
