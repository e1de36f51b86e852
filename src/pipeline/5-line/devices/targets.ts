// Targets: the notes that open a bar or a chord, told by the note before them.
import type { Slot } from '../../2-timeline';

/** The next note of its own opens a bar or a chord. */
export const opensNext = ({ nextIsDownbeat, nextIsChange }: Slot): boolean => nextIsDownbeat || nextIsChange;
