export * from './asking';
export * from './audition-sheet.svelte';
export * from './bar-acts.svelte';
export * from './beside.svelte';
export * from './chart-file';
export * from './demos';
export * from './document';
export type { ShownLine } from './edits';
export { studyFile } from './envelope';
export * from './file-intake.svelte';
export * from './files';
export * from './focus.svelte';
export * from './hand-facts';
export * from './keeping';
export * from './keys';
export * from './lesson-sheet.svelte';
export * from './library.svelte';
export * from './limit-presets';
export { safeLinkLength, studyLink } from './links';
export * from './loop';
export * from './notices.svelte';
export { pack, unpack } from './packed';
export type { DamagedEntry, StudyEntry } from './records';
export * from './playing.svelte';
export * from './practice';
export type { WeekBeside } from './practice-days';
export * from './practice-log.svelte';
export * from './preferences';
export {
  isPartChoice,
  mostOpenedBytes,
  noParts,
  ReadingDesk,
  type ConnectReader,
  type LineParts,
} from './reading';
export { requestOf } from './request';
export * from './settings.svelte';
export * from './setup';
export * from './scale-wish';
export * from './studio.svelte';
export * from './titles';
export {
  amounts,
  bassSounds,
  clickPlaces,
  parts,
  type Amount,
  type BarRange,
  type BassSound,
  type ClickPlace,
  type Part,
  type PartMix,
  type PlayerStatus,
} from '../playback';
