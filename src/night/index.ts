export * from './order';
export { planNight, type NightMemory } from './plan';
export { noMeasure } from './measure';
export * from './types';
export * from './words';
