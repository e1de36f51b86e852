export * from './conditional';
export * from './lattice';
export { mostKeptBytes } from './chain';
export { backwardSums, forwardSums, type Sums } from './minimum';
export { emptyKept, type Kept, type Pass, type WatchPass } from './kept';
export * from './room';
export * from './sample';
export * from './trace';
export { boltzmann, exponential, Weights } from './weights';
