// Starts the worker that computes strings; the build finds it by this address.
import type { StringWorker } from './string/workshop';

export const startStringWorker = (): StringWorker =>
  new Worker(new URL('./string/worker.ts', import.meta.url), { type: 'module' });
