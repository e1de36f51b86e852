export * from './candidates';
