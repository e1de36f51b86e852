export * from './client';
export type { Answer, Ask, Doers, ExplainAsk, TaskName } from './protocol';
