/** Path of a program on the path, or undefined. */
export function onPath(name: string): string | undefined;
/** The program that a variable of the environment names, or the first of some names that is on the path. */
export function findProgram(variable: string, programs: readonly string[]): string | undefined;
/** The browser named by CHROMIUM, or one on the path; undefined when there is none. */
export function findChromium(): string | undefined;
