export { noteAt, type Heard } from './lookup';
export { defaultMix } from './mix';
export { fitLoop, makeSchedule, type ScheduleSettings } from './schedule';
export { makePlayback } from './tone';
export * from './types';
