// What make-samples.mjs renders: programs and notes of General MIDI, percussion on channel 10 (9 counting from 0).
const bassRoots = [28, 29, 36, 41, 46, 54, 60];
const chordRoots = [48, 52, 56, 60, 64, 68, 72, 76];

const bassOf = (part, file, program) =>
  bassRoots.map((note) => ({
    file: `${file}-${note}.mp3`,
    part,
    name: note,
    channel: 0,
    program,
    note,
    held: 4,
    seconds: note < 40 ? 3.4 : note < 50 ? 2.8 : 2.2,
    loudness: -14,
    window: 0.4,
    encode: ['-V', '7'],
  }));

const bass = [...bassOf('bass', 'bass', 32), ...bassOf('electric bass', 'electric', 33)];

const chords = chordRoots.map((note) => ({
  file: `piano-${note}.mp3`,
  part: 'chords',
  name: note,
  channel: 0,
  program: 0,
  note,
  held: 3,
  seconds: 1.8,
  loudness: -18,
  window: 0.4,
  encode: ['-V', '7', '--resample', '44.1'],
}));

const kits = { standard: 0, jazz: 32, brush: 40 };
const drum = (name, kit, note, seconds, quality = '6') => ({
  file: `${name.replace(' ', '-')}.mp3`,
  part: 'drums',
  name,
  channel: 9,
  program: kits[kit],
  note,
  held: 3,
  seconds,
  loudness: -20,
  window: 0.1,
  encode: ['-V', quality],
});

export const sounds = [
  ...bass,
  drum('ride', 'jazz', 51, 1.8),
  drum('ride bell', 'jazz', 53, 1.8),
  drum('brush tap', 'brush', 38, 0.4),
  drum('brush sweep', 'brush', 40, 0.6),
  drum('closed hat', 'jazz', 42, 0.3),
  drum('pedal hat', 'jazz', 44, 0.3),
  drum('side stick', 'jazz', 37, 0.5),
  drum('block high', 'standard', 76, 0.2),
  drum('block low', 'standard', 77, 0.2),
  ...chords,
];
