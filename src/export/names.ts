// How numbers are written in texts and tables.

/** At most `places` decimals, none that are zero. */
export const rounded = (value: number, places: number): number => Number(value.toFixed(places));
