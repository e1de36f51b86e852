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
  LineAsk,
  OnProgress,
  Progress,
  ReadAsk,
  RoundAsk,
  TaskName,
  WaysAsk,
} from './protocol';
