/** The browser named by CHROMIUM, or one on the path; undefined when there is none. */
export function findChromium(): string | undefined;
/** Finds a browser or installs one with apt; undefined after saying what to install. */
export function ensureChromium(): string | undefined;
