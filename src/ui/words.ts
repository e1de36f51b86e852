// Every word the shell and its panels say. The staff, the map and the reports bring their own.
import type { Key, Meter, NoteNaming } from '../music';
import type { LimitPreset, Message, Part } from '../state';
import type { Feel, Pass } from '../pipeline';
import { noteText } from './words/notes';

export { noteText, symbolText } from './words/notes';
/** "F", "G minor". */
export const keyText = (key: Key): string =>
  noteText(key.tonic) + (key.church ? ` ${key.church}` : key.mode === 'minor' ? ' minor' : '');
export const meterText = (meter: Meter): string => `${meter.beats}/${meter.unit}`;

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
  chords: 'Chords',
  click: 'Click',
};

export const presetWords: Readonly<Record<LimitPreset, string>> = {
  'nothing barred': 'Nothing barred',
  'no half position': 'No half position',
  'no half or II': 'No half or II',
  'below the octave': 'Below the octave',
};

const restoreFaults = {
  'not a study': 'That is not a Ramble study, or it is damaged. Your work is as it was.',
  'newer version': 'That study was made with a newer Ramble than this one. Your work is as it was.',
  'no chart': 'That study holds no chart. Your work is as it was.',
  'too large': 'That is larger than any study. Your work is as it was.',
} as const;

/** The sentence for a message of the state. */
export function messageText(message: Message): string {
  switch (message.code) {
    case 'memory only':
      return 'This browser keeps nothing for this page, so studies last until you close it. Save a file to keep one.';
    case 'quota':
      return 'There is no room left to save. Remove a study you no longer need, or save this one to a file.';
    case 'not saved':
      return 'The study could not be saved in this browser. Save it to a file to be sure.';
    case 'saved beside':
      return 'This study was changed in another tab. Your version is now a study of its own; both are kept.';
    case 'gone':
      return 'That study is no longer there.';
    case 'notes lost':
      return 'Some notes of that line no longer fit its changes or this bass. They were drawn anew.';
    case 'locks lost':
      return 'A bar that was to stay is no longer there, so it is not kept.';
    case 'all locked':
      return 'These bars are kept as they are. Let go of them first.';
    case 'partly read':
      return 'Parts of that study could not be read and are at their usual settings.';
    case 'link copied':
      return 'The link is on the clipboard. Everything is in the link; nothing was sent anywhere.';
    case 'link long':
      return 'The link is long, and some chat programs cut long links. A file is safer.';
    case 'break':
      return 'You have been playing for 25 minutes. Five minutes off do the hands good.';
    case 'new version':
      return 'A new version of Ramble is ready. It starts when you reload; your work stays.';
    case 'link fault':
      return message.reason === 'cut'
        ? 'The link is not complete: a part of it was lost on the way. Your work is as it was.'
        : restoreFaults[message.reason];
    case 'restore fault':
      return restoreFaults[message.reason];
    case 'removed':
      return `“${message.title || words.untitled}” was removed.`;
    case 'playing':
      return 'Playing.';
    case 'stopped':
      return 'Stopped.';
  }
}

export const words = {
  name: 'Ramble',
  untitled: 'Untitled',
  close: 'Close',
  undo: 'Undo',
  reload: 'Reload',
  unfetched: 'This part of Ramble could not be fetched. Your work is safe: try again with a connection.',
  redo: 'Redo',
  dismiss: 'Dismiss',
  skip: 'Skip to the line',
  header: {
    study: 'Study',
    changes: 'Changes',
    hand: 'Hand',
    limits: 'Limits',
    bothWays: 'Both ways',
    take: (seed: number): string => `Take ${seed}`,
    save: 'Save',
    studies: 'Studies',
    toStage: 'Stage',
    toDay: 'Day',
    toStageHint: 'Dark for the stage',
    toDayHint: 'Paper for the day',
    menu: 'Menu',
    notes: 'Notes are called',
    shortcuts: 'Shortcuts',
    about: 'About',
    bass: (name: string, span: number): string => `${name}, span ${span} mm`,
    andMore: (limit: string, more: number): string =>
      `${limit} and ${more} more ${more === 1 ? 'limit' : 'limits'}`,
    saving: 'saving…',
    saved: 'saved',
    unsaved: 'not saved',
  },
  changes: {
    title: 'Changes',
    text: 'Chart as text',
    sheet: 'Lead sheet',
    sheetHint: 'Choose bars to play them over and over.',
    signs: 'Signs',
    place: (line: number, column: number): string => `Line ${line}, column ${column}`,
    problems: (count: number): string => (count === 1 ? 'One remark' : `${count} remarks`),
    allRead: 'Everything was read.',
    key: 'Key',
    ownKey: (key: string | null): string => (key === null ? 'as written' : `as written (${key})`),
    major: 'Major',
    minor: 'Minor',
    choruses: 'Choruses',
    severity: { error: 'left out', warning: 'check', note: 'note' },
    bar: (number: number, chords: string): string => `Bar ${number}: ${chords}`,
    noChord: 'N.C.',
    times: (count: number): string => `×${count}`,
    segno: 'Segno',
    coda: 'Coda',
    toCoda: 'To Coda',
    fine: 'Fine',
    noBars: 'No bars yet.',
  },
  hand: {
    title: 'Hand',
    span: 'Span, index to little finger',
    spanHint: 'Lay your hand flat on a table, fingers spread without force, and measure from tip to tip.',
    millimetres: 'mm',
    bass: 'Bass',
    length: 'String length',
    usualLength: 'Usual length',
    leftHanded: 'Left-handed bass',
    comfort: 'Comfort against music',
    comfortLess: 'the music first',
    comfortMore: 'the hand first',
    tone: 'A whole tone',
    third: 'A minor third',
    atNut: (mm: number): string => `${mm} mm in half position`,
    comfortable: (name: string): string => `comfortable from ${name} up`,
    possible: (name: string): string => `within reach from ${name} up`,
    everywhere: 'comfortable everywhere',
    never: 'out of reach below the octave',
    position: (numeral: string, note: string): string =>
      numeral === 'half' ? `half position (${note})` : `${numeral} (${note})`,
    thresholds: (relaxed: number, comfortable: number, practical: number): string =>
      `For this span: relaxed up to ${relaxed} mm, comfortable up to ${comfortable} mm, within reach up to ${practical} mm.`,
  },
  limits: {
    title: 'Limits',
    hint: 'Barred positions are left out of the line. The note is the one under the first finger on the highest string.',
    presets: 'Usual limits',
    positions: 'Positions',
    thumb: 'Thumb',
    thumbNote: 'above',
    stay: 'Longest stay',
    pins: (count: number): string => (count === 1 ? 'One note is pinned.' : `${count} notes are pinned.`),
    unpinAll: 'Unpin all',
    barred: 'barred',
    bar: 'Bar',
    lowStay: 'In the low region at most',
    beats: 'beats',
    anyStay: 'any number of',
  },
  take: {
    title: 'Take',
    next: 'New take',
    previous: 'Take before',
    number: 'Number',
    variety: 'Variety',
    tidy: 'the one best line',
    free: 'as people play',
    hint: 'A take is one line drawn for these changes. The same number always gives the same take.',
    best: 'At no variety every take is the same: the best line there is.',
  },
  save: {
    title: 'Save',
    musicXml: 'MusicXML',
    musicXmlHint: 'for notation programs, with fingering',
    midi: 'MIDI',
    midiHint: 'for players and sequencers',
    print: 'Print',
    printHint: 'choose “save as PDF” to keep it',
    link: 'Copy a link',
    linkHint: 'the study and every note of its line are in the link',
    linkLabel: 'Link',
    file: 'Study file',
    fileHint: 'to keep, or to open on another device',
    nothing: 'There is no line to save yet.',
  },
  studies: {
    title: 'Studies',
    demos: 'To start from',
    saved: 'Yours',
    search: 'Search by title',
    noneFound: 'No study of yours has that in its title.',
    none: 'Nothing saved yet. A study is saved by itself with its first change.',
    memory: 'Kept only until this page is closed.',
    isOpen: 'open now',
    rename: 'Rename',
    renameLabel: 'Title of the study',
    duplicate: 'Duplicate',
    remove: 'Remove',
    toFile: 'Save to a file',
    fromFile: 'Open a study file',
    blank: 'Blank chart',
    blankText: 'Title: New study\nKey: C\nMeter: 4/4\nTempo: 120\nFeel: swing\n\n| C6 |\n',
    copyTitle: (title: string): string => `${title} (copy)`,
    of: (action: string, title: string): string => `${action}: ${title}`,
  },
  transport: {
    label: 'Playing',
    play: 'Play',
    stop: 'Stop',
    starting: 'Starting…',
    tempo: 'tempo',
    tempoTitle: 'Tempo and swing',
    bpm: 'Quarter notes a minute',
    tap: 'Tap',
    ownTempo: 'As written',
    swing: 'swing',
    swingOf: (ratio: number): string => `${ratio.toFixed(1)} : 1`,
    straight: 'straight',
    swingLabel: 'First eighth over the second',
    swingByTempo: 'Swing follows the tempo',
    loop: 'loop',
    loopTitle: 'Loop and passes',
    loopBars: (from: number, to: number): string => (from === to ? `bar ${from}` : `bars ${from}–${to}`),
    wholeForm: 'whole form',
    loopWhole: 'Play the whole form',
    fromBar: 'From bar',
    toBar: 'to bar',
    countIn: 'Count-in',
    countInBars: (bars: number): string => (bars === 0 ? 'none' : bars === 1 ? 'one bar' : `${bars} bars`),
    eachPass: 'each pass',
    eachPassLabel: 'Each time round',
    sameTake: 'same take',
    newTake: 'new take',
    speedUp: 'Faster each time by',
    parts: 'Parts',
    level: (part: string): string => `Level of ${part.toLowerCase()}`,
    chorus: 'chorus',
    chorusOf: (chorus: number, choruses: number): string => `${chorus} of ${choruses}`,
    choruses: 'Choruses',
    counting: (beats: number): string => `${beats}…`,
    substitutes: (parts: readonly string[]): string =>
      `Sounds for ${parts.join(' and ').toLowerCase()} did not arrive; stand-ins play.`,
    straightFeel: 'This feel has even eighths.',
    partsHint: 'Mute the bass to play it yourself.',
    chorusesHint: 'then from the top',
    breakReminder: 'Suggest a break after 25 minutes',
  },
  stage: {
    line: 'Line',
    board: 'Fingerboard',
    beat: 'Beat and hand',
    roles: 'Show what each note is for',
    noLine: 'There are no changes to play yet.',
    openChanges: 'Open the changes',
    working: 'Working out a line…',
    passes: {
      forward: 'Adding up from the first bar',
      backward: 'Adding up from the last bar',
      filter: 'Weighing every line there is',
      path: 'Choosing the notes',
      'look ahead': 'Looking ahead',
    } satisfies Record<Pass, string>,
    stop: 'Stop',
    stopped: 'The work was stopped, so there is no line for these changes and wishes yet.',
    workOut: 'Work it out',
    remarks: (count: number): string =>
      count === 1
        ? 'One place in the changes could not be read.'
        : `${count} places in the changes could not be read.`,
    show: 'Show',
    allow: (name: string): string => (name === 'half' ? 'Allow half position' : `Allow ${name}`),
    allowAll: 'Allow all positions',
    giveUp: (wish: string): string => `Let go of ${wish}`,
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
  },
  shortcuts: {
    title: 'Shortcuts',
    rows: [
      ['Space', 'Play or stop'],
      ['Left, Right', 'The beat before, the beat after'],
      ['R', 'Draw the bar, or the chosen bars, anew'],
      ['Shift R', 'New take of everything'],
      ['K', 'Keep the bar as it is, or let it change'],
      ['Up, Down', 'Try the ways to play the beat, cheapest first'],
      ['Enter', 'Pin the note, or the way that is tried'],
      ['Delete, Backspace', 'Unpin it'],
      ['C', 'Changes'],
      ['1, 2, 3, 4', 'See the low region, the middle, the neck block, the octave closely'],
      ['0', 'See the whole board'],
      ['Ctrl Z', 'Undo'],
      ['Ctrl Shift Z', 'Redo'],
      ['Page Down, Page Up', 'In stand view: start and go on, stop and go back'],
      ['Esc', 'Leave the way that is tried, or close what is open'],
      ['?', 'This list'],
    ] as readonly (readonly [keys: string, does: string])[],
  },
  about: {
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
  },
} as const;
