export { nameLengthFor } from './words';
export type { Room } from './room';
export { neckScale, stripRoom, type NeckScale } from './scale';
export { notableStays, type ShownStay } from './stays';
export { default as StripLight } from './StripLight.svelte';
export { default as TravelStrip } from './TravelStrip.svelte';
