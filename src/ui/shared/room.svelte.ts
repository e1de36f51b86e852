// Whether the screen has room for the row of words in the header.
import { MediaQuery } from 'svelte/reactivity';

/** The first row has all its words; where it has not, the doors behind them are elsewhere, each one once. */
export const hasWords = new MediaQuery('width >= 75rem', true);
