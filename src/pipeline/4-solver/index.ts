export * from './best-otherwise';
export * from './block-draw';
export * from './lattice';
export { mostKeptBytes } from './checkpointing';
export { backwardMessages } from './backward-messages';
export { countRelaxations, forwardMessages } from './forward-messages';
export { stateCount, unaryCosts, type Sums } from './messages';
export { Vectors } from './kernel/vectors';
export { cacheOf, emptySolvedCache, type SolvedCache, type Pass, type WatchPass } from './solved-cache';
export * from './look-ahead-entropy';
export * from './sampler';
export * from './min-marginals';
export {
  reachedMemories,
  wideMessages,
  widePath,
  type Reached,
  type WideCosts,
  type WideMessages,
} from './wide-messages';
export { boltzmann, exponential, Weights } from './boltzmann';
