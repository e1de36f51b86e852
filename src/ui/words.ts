// Every word the shell and its panels say, by panel in the folder beside. The staff, the map and the reports bring their own.
import type { Key, NoteNaming } from '../music';
import type { LimitPreset, Part } from '../state';
import type { Feel } from '../pipeline';
import { changes } from './words/changes';
import { header, limits, take, save } from './words/panels';
import { stage } from './words/stage';
import { studies } from './words/studies';
import { transport } from './words/transport';
import { untitled } from './words/messages';
import { noteText } from './words/notes';

export { meterText } from '../pipeline/1-chart';
export { messageText } from './words/messages';
export { noteText, symbolText } from './words/notes';
/** "F", "G minor". */
export const keyText = (key: Key): string =>
  noteText(key.tonic) + (key.church ? ` ${key.church}` : key.mode === 'minor' ? ' minor' : '');

/** How notes may be called, each by its names for A, B flat and B. */
export const noteNamingWords: Readonly<Record<NoteNaming, string>> = {
  English: 'A, B♭, B',
  German: 'A, B, H',
  'fixed do': 'La, Si♭, Si',
};

export const feelWords: Readonly<Record<Feel, string>> = {
  swing: 'swing',
  'two-feel': 'two-feel',
  waltz: 'jazz waltz',
  ballad: 'ballad',
  bossa: 'bossa',
  straight: 'straight eighths',
};

export const partWords: Readonly<Record<Part, string>> = {
  bass: 'Bass',
  cymbal: 'Cymbal',
  'hi-hat': 'Hi-hat',
  drums: 'Drums',
  chords: 'Chords',
  click: 'Click',
};

export const presetWords: Readonly<Record<LimitPreset, string>> = {
  'nothing barred': 'Nothing barred',
  'no half position': 'No half',
  'no half or II': 'No half or II',
  'below the octave': 'Below the octave',
};

export const words = {
  name: 'Ramble',
  untitled,
  close: 'Close',
  undo: 'Undo',
  reload: 'Reload',
  unfetched: 'This part of Ramble could not be fetched. Your work is safe: try again with a connection.',
  redo: 'Redo',
  dismiss: 'Dismiss',
  skip: 'Skip to the line',
  part: 'Line from part',
  choosePart: 'Choose a part',
  moreRemarks: (count: number): string => `and ${count} more`,
  header,
  changes,
  limits,
  take,
  save,
  studies,
  transport,
  stage,
} as const;
