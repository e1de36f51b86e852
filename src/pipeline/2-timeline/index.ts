export { mostPlayedBars, unroll, type PlayedBar, type PlayedForm } from './form';
export { makeTimeline, type TimelineResult, type TimelineWish } from './timeline';
export type * from './types';
