export * from './client';
export type { Answer, Ask, Doers, ExplainAsk, OnProgress, Progress, TaskName } from './protocol';
