export * from './client';
export type {
  Answer,
  Ask,
  BothWaysAsk,
  Doers,
  ExplainAsk,
  OnProgress,
  Progress,
  TaskName,
  WaysAsk,
} from './protocol';
