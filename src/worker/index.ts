export * from './client';
export type {
  Answer,
  Ask,
  BothWaysAsk,
  CarryAsk,
  Doers,
  ExplainAsk,
  LessonAnswer,
  LessonAsk,
  OnProgress,
  Progress,
  RoundAsk,
  TaskName,
  WaysAsk,
} from './protocol';
