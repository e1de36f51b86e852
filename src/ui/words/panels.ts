// The words of the header and the panels under it: limits, take, save.

export const header = {
  study: 'Study',
  write: 'Write changes',
  changes: 'Changes',
  newTake: 'New take',
  hand: 'Hand',
  limits: 'Limits',
  bothWays: 'Usual and open',
  night: 'The night',
  take: (seed: number): string => `Take ${seed}`,
  save: 'Save',
  lessons: 'Lessons',
  studies: 'Studies',
  toStage: 'Stage',
  toDay: 'Day',
  toStageHint: 'Dark for the stage',
  toDayHint: 'Paper for the day',
  menu: 'Menu',
  notes: 'Note names',
  shortcuts: 'Shortcuts',
  about: 'About',
  bass: (name: string, span: number): string => `${name}, span ${span} mm`,
  andMore: (limit: string, more: number): string =>
    `${limit} and ${more} more ${more === 1 ? 'limit' : 'limits'}`,
  saving: 'saving…',
  saved: 'saved',
  kept: 'kept in this browser',
  unsaved: 'not saved',
  /** On a screen with little room. */
  keptShort: 'kept here',
} as const;

export const limits = {
  title: 'Limits',
  hint: 'The line stays out of barred positions. The small name is the note of the first finger on the highest string.',
  presets: 'Usual limits',
  positions: 'Positions',
  thumb: 'Thumb',
  thumbNote: 'above',
  stay: 'Longest stay',
  pins: (count: number): string => (count === 1 ? 'One note is pinned.' : `${count} notes are pinned.`),
  unpinAll: 'Unpin all',
  barred: 'barred',
  bar: 'Bar',
  stayIn: 'In',
  stayAtMost: 'at most',
  beats: 'beats',
  anyStay: 'any number of',
} as const;

export const take = {
  title: 'Take',
  next: 'New take',
  previous: 'Previous take',
  number: 'Number',
  hint: 'A take is one line over these changes. The same number always gives the same take.',
  auditions: 'Audition takes',
  best: 'At no variety every take is the same: the best line there is.',
} as const;

export const save = {
  title: 'Save',
  musicXml: 'MusicXML',
  musicXmlHint: 'for notation programs, with fingering',
  midi: 'MIDI',
  midiHint: 'for players and sequencers',
  print: 'Print',
  printNow: 'Print the line',
  printHint: 'choose “save as PDF” to keep it',
  link: 'Copy a link',
  linkHint: 'the study and every note of its line are in the link',
  linkLabel: 'Link',
  file: 'Study file',
  fileHint: 'to keep, or to open on another device',
  nothing: 'There is no line to save yet.',
} as const;
