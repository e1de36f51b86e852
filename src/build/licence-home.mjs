// Packages that share the licence of another, which is the one that carries the text.

/** Name of the package in which the licence text of a package lies. */
export const licenceHome = (name) => (name.startsWith('@tonaljs/') ? 'tonal' : name);
