/** Name of the package in which the licence text of a package lies. */
export function licenceHome(name: string): string;
