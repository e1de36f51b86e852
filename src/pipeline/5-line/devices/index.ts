export * from './counts';
export * from './degree';
export * from './labels';
export * from './role';
export * from './rows';
export * from './spans';
export * from './told';
