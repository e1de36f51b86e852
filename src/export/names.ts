// Names that texts and tables print.
import type { StringNumber } from '../instrument';

const numerals = ['I', 'II', 'III', 'IV', 'V', 'VI', 'VII', 'VIII'] as const;

/** I is the highest string. */
export const stringNumeral = (string: StringNumber): string => numerals[string - 1] ?? String(string);

/** At most `places` decimals, none that are zero. */
export const rounded = (value: number, places: number): number => Number(value.toFixed(places));
