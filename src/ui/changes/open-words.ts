// The words about opening a tune from a file.
import type { ChartFileFault } from '../../state';

const faults: Readonly<Record<ChartFileFault, string>> = {
  'too large': 'is larger than any chart. Your changes are as they were.',
  'no chords': 'has no chord symbols, so there are no changes to play. Your changes are as they were.',
  'which part':
    'has several parts and no chord symbols. Choose the part whose line you want. Your changes are as they were.',
  'no chart': 'holds no changes that can be read. Your changes are as they were.',
  'not read': 'could not be read. Your changes are as they were.',
  'too long': 'holds more bars than a study can. Your changes are as they were.',
};

export const openWords = {
  open: 'Open a file',
  hint: 'chart text, MusicXML, ABC or MIDI; or drop it here, or paste',
  pasted: 'What you pasted',
  opened: (name: string): string => `${name} is in place. Undo brings the changes before it back.`,
  asLine: 'Finger it both ways',
  question: (name: string, notes: number): string =>
    `${name} has a line of ${notes} ${notes === 1 ? 'note' : 'notes'} over its changes. Which do you want on the sheet?`,
  bareQuestion: (name: string, notes: number): string =>
    `${name} is a line of ${notes} ${notes === 1 ? 'note' : 'notes'} without chord symbols. Where do you want it?`,
  emptyPart: (name: string): string =>
    `That part of ${name} has no notes that can be read. The line and the changes are as they were.`,
  overThese: 'Over these changes',
  overNone: 'Over no chords',
  useLine: 'Its line',
  walk: 'A walked line',
  openedOwn: (name: string): string =>
    `${name} is in place, with its line on the sheet. Undo brings what was there before back.`,
  refused: (name: string, fault: ChartFileFault): string => `${name} ${faults[fault]}`,
} as const;
