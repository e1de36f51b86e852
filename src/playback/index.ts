export { noteAt, type Heard } from './lookup';
export { defaultMix } from './mix';
export { renderMusic } from './render';
export { renderRate, ringOut, type RenderWishes } from './render-wishes';
export { fitLoop, makeSchedule, ratiosFor, type ScheduleSettings } from './schedule';
export { makePlayback } from './tone';
export * from './types';
