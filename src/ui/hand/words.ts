// Every word of the panel of bass and hand and of the page that shows both ways.
import {
  stringName,
  type Instrument,
  type PositionNaming,
  type StringNaming,
  type WayId,
} from '../../instrument';
import type { SpanEase } from '../../state';
import type { LineFileFault } from '../../state/both-ways';
import { noteText } from '../words/notes';

/** Ways of fingering as players call them. */
export const wayWords: Readonly<Record<WayId, string>> = {
  '1-2-4': '1-2-4',
  '1-2-4 stretched': '1-2-4, stretched',
  '1-2-3-4': '1-2-3-4 from …',
  '3 for 4': '3 in place of 4 from …',
  thumb: 'thumb up from …',
  '1-3-4': '1-3-4',
};

/** Ways to call positions, each by its example. */
export function namingText(naming: PositionNaming): string {
  const note = noteText('D♭');
  switch (naming) {
    case 'numeral':
      return 'III½';
    case 'intermediate':
      return 'III–IV';
    case 'first-finger note':
      return `first-finger note, ${note}`;
    case 'both':
      return `III½ (${note})`;
  }
}

/** Ways to call strings, by those of this bass, the lowest first: "letters, E A D G". */
export function stringNamingText(instrument: Instrument, naming: StringNaming): string {
  const names = instrument.strings.map(({ number }) => stringName(instrument, number, naming, noteText));
  return `${naming}, ${names.toReversed().join(' ')}`;
}

export const easeWords: Readonly<Record<SpanEase, string>> = {
  relaxed: 'relaxed',
  comfortable: 'comfortable',
  practical: 'a stretch',
  'out of reach': 'out of reach',
};

export const heelChoices = [
  { stop: 7, note: 'D' },
  { stop: 8, note: 'E♭' },
] as const;

export const words = {
  title: 'Bass and hand',
  bass: 'Bass',
  kind: 'Kind',
  length: 'String length, nut to bridge',
  usualLength: 'Usual length',
  heel: 'Heel of the neck',
  atHeel: (name: string): string => `the heel, ${name}`,
  atOctave: (name: string): string => `the octave, ${name}`,
  heelAt: (note: string): string => `at ${noteText(note)}`,
  heelOther: (stop: number): string => `${stop} semitones up`,
  tuning: 'Own tuning',
  tuningLabel: 'Open strings, lowest first',
  tuningHint: 'With the octave as it sounds: E1 A1 D2 G2.',
  usualTuning: 'Usual tuning',
  leftHanded: 'Left-handed',
  hand: 'Hand',
  way: 'Fingers',
  wayFrom: '… from',
  span: 'Span, index to little finger',
  spanHint: 'Lay the hand flat on a table, fingers spread without force, and measure from tip to tip.',
  usualSpans: (least: number, most: number): string => `Most adult hands: ${least} to ${most} mm.`,
  mm: 'mm',
  orBy: 'Or by the lowest place where it is comfortable to hold',
  tone: 'a whole tone',
  third: 'a minor third',
  notChosen: '…',
  picture: 'The span laid on the board, true to scale',
  pictureLabel: (rows: string): string => `The span laid on the board: ${rows}.`,
  nut: 'nut',
  heelMark: 'heel',
  octave: 'octave',
  relaxedTo: (mm: number): string => `relaxed to ${mm} mm`,
  comfortableTo: (mm: number): string => `comfortable to ${mm}`,
  reachTo: (mm: number): string => `at most ${mm}`,
  toneShort: 'whole tone',
  thirdShort: 'minor third',
  naming: 'Position names',
  stringNaming: 'String names',
  comfort: 'Comfort against music',
  comfortLess: 'the music first',
  comfortMore: 'the hand first',
  where: 'Where to live',
  whereHint: 'Where stopped notes may lie. Open strings are always free.',
  hardest: 'Hardest move',
  hardestAny: 'as it comes',
  hardestGentle: 'no hard move',
  hardestLeast: 'the easiest there is',
  hardestOwn: (percent: number): string => `at most ${percent} % of its time`,
  hardestHint:
    'A shift is hard when it needs more time than the tempo leaves. The easiest there is may mean hardly moving at all.',
  shifts: 'How fast you shift',
  /** How fast the hand is. */
  shiftTempos: {
    assumed:
      'Your own pace is not known yet. One is assumed, so a shift is called easy, brisk, at the edge or beyond, with no seconds. Figures measured on the bass were not readable to us: find your own.',
    slopeAlone:
      'Timed before for the distance alone. Find all three figures, and shifts are told in seconds; until then in words.',
    /** "I to IV 0.43 s". */
    takes: (from: string, to: string, seconds: number): string => `${from} to ${to} ${seconds.toFixed(2)} s`,
    own: (shifts: readonly string[], share: number): string =>
      `Yours: ${shifts.join(', ')}; between two stopped notes a shift may take ${Math.round(share * 100)} % of the first.`,
    hint: 'Set a click to quarter notes, one finger, one string. Raise the tempo while the shift still feels in time and in tune, and write down the last tempo that did. Two shifts under an open string and one bare shift are enough; more make it surer.',
    manners: { covered: 'Under an open string', bare: 'Bare, from stopped note to stopped note' },
    how: {
      covered: 'A stopped note, any open string, the other stopped note, the open string again.',
      bare: 'From one stopped note straight to the other and back, each held as long as you would in a line.',
    },
    shift: (number: number, from: string, to: string, mm: number): string =>
      `${number}. ${from} and ${to}, ${mm} mm`,
    wrong: (number: number, least: number, most: number): string =>
      `Shift ${number} needs a tempo from ${least} to ${most}.`,
    use: 'Use these',
    forget: 'Back to the assumed',
  },
  both: {
    title: 'Usual and open',
    open: 'Usual and open',
    hint: 'The usual way as it is taught first, without your limits; the open way as your hand and your limits have it, open strings moving the hand.',
    walk: 'This walk',
    pattern: 'Scale or pattern',
    own: 'Notes of your own',
    source: 'What is fingered',
    usual: 'Usual way',
    usualHint: 'low first, then up the top string',
    openWay: 'Open way',
    openHint: 'the whole neck, open strings moving the hand',
    walkHint: 'the line on the sheet, as it is fingered there',
    figures: 'Figures side by side',
    firstPattern: 'B♭ major without half',
    print: 'Print',
    nothing: 'There is nothing to finger yet.',
    working: 'Working out both…',
    problem: (place: number, message: string): string => `Word ${place}: ${message}`,
    notes: 'Notes',
    notesHint: 'Letter and octave as it sounds: Bb1 C2 D2. A colon gives the length in beats: D2:2. r rests.',
    none: 'none',
    note: 'Note',
  },
  /** A line from a file. */
  line: {
    openFile: 'Open a file',
    openHint: 'MIDI, MusicXML, ABC or note names; or drop it on the notes',
    opened: (name: string, count: number): string =>
      `${name} is in place: ${count === 1 ? 'one note' : `${count} notes`}.`,
    faults: {
      'too large': 'is larger than any line. Your notes are as they were.',
      'no notes': 'holds no notes that can be read. Your notes are as they were.',
      'no bass': 'has no part that is clearly for the bass: choose one. Your notes are as they were.',
      'not read': 'could not be read. Your notes are as they were.',
    } satisfies Record<LineFileFault, string>,
    putBack: 'Put it back',
    title: 'Title',
    key: 'Key',
    meter: 'Meter',
  },
  /** Fingers that came with the file of a line. */
  written: {
    title: 'Fingers written in the file',
    note: 'note',
    inFile: 'in the file',
    same: (notes: number, usual: number, open: number): string =>
      `Of ${notes === 1 ? 'one note' : `${notes} notes`} with a finger or string, ${usual} are as written the usual way and ${open} the open way, set in bold.`,
  },
  pattern: {
    tonic: 'Key',
    scale: 'Scale',
    figure: 'Figure',
    reach: 'Over',
    direction: 'Going',
    withoutHalf: 'without half',
    figures: {
      scale: 'scale',
      triad: 'triad',
      'seventh chord': 'seventh chord',
      thirds: 'in thirds',
      fours: 'in fours',
      '1-2-3-5': '1-2-3-5',
    },
    reaches: {
      'one octave': 'one octave',
      'two octaves': 'two octaves',
      'whole neck': 'the whole neck',
    },
    directions: { up: 'up', down: 'down', 'up and down': 'up and down' },
  },
} as const;
