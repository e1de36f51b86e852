export * from './avoid';
export * from './automaton';
export * from './concerns';
export * from './memory';
export * from './rules';
export * from './step';
