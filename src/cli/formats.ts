// What lines and charts can be written as.

export const walkFormats = ['text', 'chat', 'json', 'musicxml', 'midi', 'svg', 'pdf'] as const;
export type WalkFormat = (typeof walkFormats)[number];
export const chartFormats = ['text', 'json', 'musicxml', 'abc'] as const;
export type ChartFormat = (typeof chartFormats)[number];

/** How a usage says it. */
export const walkFormatUsage = `[--format ${walkFormats.join('|')}] [--paper A4|Letter]`;
