export * from './degree';
export * from './feature';
export * from './holding';
export * from './melody';
export * from './moving';
