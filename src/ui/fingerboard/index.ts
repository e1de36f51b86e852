export { default as Fingerboard } from './Fingerboard.svelte';
export { default as FingerboardTable } from './FingerboardTable.svelte';
export * from './geometry';
export type { PricedPlacement } from './pricing';
export {
  beatText,
  fingerText,
  inPosition,
  millimetresText,
  pitchText,
  placeInTime,
  placementText,
  priceText,
  words,
  type PositionName,
} from './words';
