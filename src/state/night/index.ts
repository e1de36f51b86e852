export * from './clock';
export type { NightFault } from '../night-faults';
export * from './file';
export * from './night';
export * from './request';
export * from './verbs';
