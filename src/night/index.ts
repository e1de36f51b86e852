export * from './order';
export { planNight, type NightCaches } from './plan';
export { noMeasure } from './measure';
export * from './types';
export * from './words';
