// The words of the shortcuts and About.

export const shortcuts = {
  title: 'Shortcuts',
  rows: [
    ['Space', 'Play or stop'],
    ['Left, Right', 'The beat before, the beat after'],
    ['R', 'New notes in the bar, or in the chosen bars'],
    ['Shift R', 'New take of everything'],
    ['H', 'Hold the bar as it is, or let it go'],
    ['Up, Down', 'Try the ways to play the beat, cheapest first; move the note of a line of your own'],
    ['Enter', 'Pin the note, or the way that is tried'],
    ['Delete, Backspace', 'Unpin it; delete the note of a line of your own'],
    [', .', 'Make the note of a line of your own shorter, longer'],
    ['< >', 'Move it earlier, later'],
    ['N', 'Add a note after it'],
    ['C', 'Changes'],
    ['A', 'Audition takes: ten at a time in a table'],
    ['D', 'Approaches and devices in brackets under the staff, or not'],
    ['W', 'Show what each note is for, or not'],
    ['B', 'Put the board away, or show it'],
    ['1, 2, 3, 4', 'See the low region, the middle, the neck block, the octave closely'],
    ['0', 'See the whole board again'],
    ['Ctrl Z', 'Undo'],
    ['Ctrl Shift Z', 'Redo'],
    ['Page Down, Page Up', 'In stand view: start and go on, stop and go back'],
    ['Esc', 'Leave the way that is tried, or close what is open'],
    ['?', 'This list'],
  ] as readonly (readonly [keys: string, does: string])[],
} as const;

export const about = {
  title: 'About Ramble',
  what: 'Ramble writes walking-bass lines for the upright bass together with the hand that plays them: string, finger and position for every note.',
  version: (version: string): string => `Version ${version}.`,
  privacy: 'It works on this device. Nothing you write leaves it unless you send a link or a file.',
  cautionTitle: 'Looking after the hand',
  caution:
    'What Ramble says about the hand is an estimate from geometry, not of injury risk. Stop when something hurts. Pain, numbness, tingling or weakness that lasts or returns is for a clinician; posture and fingering for a teacher. Rest often.',
  licences: 'Licences',
  unavailable: 'The text could not be fetched. Try again with a connection.',
  fonts: 'Alegreya, SIL Open Font License 1.1',
  sansFont: 'Alegreya Sans, SIL Open Font License 1.1',
  musicFont: 'Music characters, SIL Open Font License 1.1',
  samples: 'Sounds of bass, drums and piano',
  program: 'Ramble',
  packages: 'Libraries inside the program',
} as const;
