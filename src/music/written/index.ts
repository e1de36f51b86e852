export * from './beams';
export { barGrid, barTicks, type BarGrid } from './grid';
export * from './signs';
export * from './stretches';
export * from './values';
