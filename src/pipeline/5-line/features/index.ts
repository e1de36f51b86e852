export * from './degree';
export * from './feature';
export * from './grammar';
export * from './holding';
export * from './melody';
export * from './moving';
