export { makePlayback } from './late';
export { noteAt, type Heard } from './lookup';
export { defaultMix } from './mix';
export { renderMusic } from './render';
export { renderRate, ringOut, type RenderWishes } from './render-wishes';
export { ratiosFor } from './ratios';
export { fitLoop, makeSchedule, type ScheduleSettings } from './schedule';
export * from './types';
