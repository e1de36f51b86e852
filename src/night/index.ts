export * from './order';
export { planNight } from './plan';
export { noMeasure } from './measure';
export * from './types';
export * from './words';
