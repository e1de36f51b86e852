// The words of the stage and the panel beside it.
import type { Pass } from '../../pipeline';

export const stage = {
  line: 'Line',
  board: 'Fingerboard',
  beat: 'Beat and hand',
  roles: 'Show what each note is for',
  devices: 'Show approaches and devices in brackets',
  rolesShort: 'what each note is for',
  /** For whoever sees the signs on the staff for the first time. */
  signs: {
    finger: 'finger',
    position: 'place of the hand',
    carry: 'an open string moves the hand',
    gone: 'Got it',
  },
  noLine: 'There are no changes to play yet.',
  openChanges: 'Open the changes',
  working: 'Working out a line…',
  passes: {
    forward: 'Adding up from the first bar',
    backward: 'Adding up from the last bar',
    filter: 'Weighing every line there is',
    path: 'Choosing the notes',
    'look ahead': 'Looking ahead',
    choice: 'Choosing among takes',
    repeats: 'Drawing bars again that repeat others',
    night: 'Planning the night',
    round: 'Going through the keys',
  } satisfies Record<Pass | 'night' | 'round', string>,
  lesson: {
    name: 'Lesson',
    sides: 'Hear and see',
    after: 'The lesson',
    before: (layer: string): string => `${layer}, before it`,
    changed: (count: number, all: number): string => `${count} of ${all} notes changed`,
    marked: 'marked with a wedge',
    held: (count: number): string => `${count} held otherwise`,
    remaking: 'It is being made again for what you changed…',
    again: (notes: number, fingers: number, all: number): string =>
      notes + fingers === 0
        ? 'Made again for what you changed: the same line.'
        : `Made again for what you changed: ${notes} of ${all} notes are other than before it${fingers > 0 ? `, ${fingers} held otherwise` : ''}.`,
    over: (price: string): string => `No line with these shares of the neck is better by more than ${price}.`,
    overNotes: 'Whether another line with these shares of the neck changes fewer notes is not known.',
    fingeredFor: (tempo: number): string => `Fingered for ♩ = ${tempo}.`,
    project: 'Projector view',
    leave: 'Back to my line',
  },
  /** A line of the player's own over the changes. */
  own: {
    name: 'Your own line',
    says: (notes: number): string =>
      notes === 0
        ? 'No note stands in it yet.'
        : notes === 1
          ? '1 note stands as it is written.'
          : `${notes} notes stand as they are written.`,
    fingering: 'Fingers',
    fingerings: { ours: 'Our fingers', theirs: 'The file’s fingers' },
    both: {
      ours: 'Where the file has another finger or string, it stands in brackets.',
      theirs: 'Where we would take another finger or string, it stands in brackets.',
    },
    lower: 'Down',
    higher: 'Up',
    note: 'The chosen note',
    earlier: 'Earlier',
    later: 'Later',
    shorter: 'Shorter',
    longer: 'Longer',
    add: 'Add a note',
    remove: 'Delete',
    deleteKey: 'Del',
    hint: 'Drag a note up, down or sideways. Double-click an empty place on the staff to write one in. Click a note for more.',
    /** A finger on the glass scrolls until it has held a note. */
    touchHint:
      'Hold a note, then drag it up, down or sideways. Tap twice on an empty place on the staff to write one in. Tap a note for more.',
    emptyHint: 'Write notes in: twice on an empty place on the staff, or with the button.',
    leave: 'Walk these changes instead',
  },
  stop: 'Stop',
  stopped: 'The work was stopped, so there is no line for these changes and wishes yet.',
  workOut: 'Work it out',
  remarks: (count: number): string =>
    count === 1
      ? 'One place in the changes could not be read.'
      : `${count} places in the changes could not be read.`,
  show: 'Show',
  allow: (name: string): string => `Allow ${name}`,
  allowAll: 'Allow all positions',
  giveUp: (wish: string): string => `Let go of ${wish}`,
  giveUpAll: (count: number): string => `Let go of these ${count}`,
  pin: 'Pin this note',
  unpin: 'Unpin',
  pinned: 'Pinned: it stays in every take.',
  lastLine: 'The last line stays below.',
  broke: 'The line could not be worked out. This is a fault in the program; your work is safe.',
  again: 'Try again',
  openBuys: (price: string): string => `Without the open string here the line costs ${price} more.`,
  room: 'Elbow room ahead',
  choices: 'good choices a beat',
  boxedIn: '· boxed in',
  nothingSelected: 'Choose a note, or press play.',
} as const;
