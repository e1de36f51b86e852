/** Path of a stock Firefox, or undefined. */
export function findFirefox(): string | undefined;
/** WebKit's driver, its browser and a display without a screen; undefined unless all are there. */
export function findWebKit():
  { readonly driver: string; readonly browser: string; readonly display: string } | undefined;
/** What is not tested for want of an engine, in a sentence; empty when both are there. */
export function missingEngines(): string;
