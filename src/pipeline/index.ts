export * from './1-chart';
export * from './2-timeline';
export * from './3-candidates';
export * from './5-line';
export * from './explain';
export * from './pipeline';
export { emptyMemory, type Memory } from './setting';
export * from './types';
export {
  fingerBothWays,
  fingerLine,
  fingeringAims,
  parseNotes,
  type FingeringAim,
  type GivenResult,
} from './given';
