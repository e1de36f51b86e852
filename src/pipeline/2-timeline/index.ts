export { mostPlayedBars, unroll, type PlayedBar, type PlayedForm } from './form';
export { lineShapes, type HeightWish, type LineShape, type LineWishes, type ShapeWish } from './line-wishes';
export { isOrnament } from './rhythm';
export { endings, goesRound, type EndingWish } from './rhythm-ending';
export type { KeptMoment, KeptPlace, KeptRhythm } from './rhythm-kept';
export { soundOf, type NoteSound } from './rhythm-sound';
export { makeTimeline, type TimelineResult, type TimelineWish } from './timeline';
export type * from './types';
