export * from './degree';
export * from './feature';
export * from './fingering';
export * from './holding';
export * from './melody';
export * from './moving';
export * from './shifting';
export * from './strings';
