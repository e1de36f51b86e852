export * from './updates';
