// A MIDI file as a given line. An independent reader (midi-file) agrees on the notes; bytes follow the Standard MIDI Files
// 1.0 specification.
import fc from 'fast-check';
import { parseMidi } from 'midi-file';
import { describe, expect, it, test } from 'vitest';
import { fingerLine, isMidi, readMidiLine, walk } from '../../../src/pipeline';
import { toMidi } from '../../../src/export';
import { bpm } from '../../../src/music';
import { defaultHand, defaultInstrument } from '../../../src/instrument';
import { requestFor } from '../request';

const word = (text: string): number[] => [...text].map((letter) => letter.charCodeAt(0));
const big = (value: number, bytes: number): number[] =>
  Array.from({ length: bytes }, (_, index) => Math.floor(value / 256 ** (bytes - 1 - index)) % 256);
const chunk = (name: string, data: readonly number[]): number[] => [
  ...word(name),
  ...big(data.length, 4),
  ...data,
];
const header = (format: number, tracks: number, division: number): number[] =>
  chunk('MThd', [...big(format, 2), ...big(tracks, 2), ...big(division, 2)]);
const file = (division: number, ...tracks: readonly (readonly number[])[]): Uint8Array =>
  new Uint8Array([
    ...header(tracks.length > 1 ? 1 : 0, tracks.length, division),
    ...tracks.flatMap((data) => chunk('MTrk', [...data, 0, 0xff, 0x2f, 0])),
  ]);
/** A note of a length after a wait, both under 128. */
const note = (wait: number, midi: number, length: number, channel = 0): number[] => [
  wait, 0x90 + channel, midi, 80, length, 0x80 + channel, midi, 0,
]; // prettier-ignore
const named = (name: string): number[] => [0, 0xff, 3, name.length, ...word(name)];
const heard = (bytes: Uint8Array, part?: number): readonly (readonly [number, number, number])[] =>
  readMidiLine(bytes, part).notes.map(({ midi, tick, ticks }) => [midi, tick, ticks] as const);
const codes = (bytes: Uint8Array, part?: number): readonly string[] =>
  readMidiLine(bytes, part).problems.map(({ code }) => code);

describe('notes', () => {
  it('come at 480 ticks a quarter whatever the file counts', () => {
    const quarters = [note(0, 28, 96), note(0, 33, 96)].flat();
    expect(heard(file(96, quarters))).toEqual([
      [28, 0, 480],
      [33, 480, 480],
    ]);
    expect(heard(file(48, quarters))).toEqual([
      [28, 0, 960],
      [33, 960, 960],
    ]);
  });
  it('are read under running status, a strike without force ending them', () => {
    expect(heard(file(96, [0, 0x90, 28, 80, 96, 28, 0, 0, 33, 80, 96, 33, 0]))).toEqual([
      [28, 0, 480],
      [33, 480, 480],
    ]);
  });
  it('come to sixteenths and thirds of a beat', () => {
    // Swung eighths, the second a little late; a note released early sounds to the grid.
    expect(heard(file(96, [...note(0, 28, 60), ...note(5, 30, 30), ...note(2, 33, 90)]))).toEqual([
      [28, 0, 320],
      [30, 320, 160],
      [33, 480, 480],
    ]);
  });
  it('sound one at a time: the lowest of several, each to the next at the latest', () => {
    const chord = [0, 0x90, 40, 80, 0, 28, 80, 96, 0x80, 40, 0, 0, 28, 0];
    expect(heard(file(96, chord))).toEqual([[28, 0, 480]]);
    expect(codes(file(96, chord))).toEqual(['midi-chords']);
    const overlapping = [0, 0x90, 28, 80, 96, 33, 80, 48, 0x80, 28, 0, 48, 33, 0];
    expect(heard(file(96, overlapping))).toEqual([
      [28, 0, 480],
      [33, 480, 480],
    ]);
    const again = [0, 0x90, 28, 80, 48, 28, 80, 48, 0x80, 28, 0, 48, 28, 0];
    expect(heard(file(96, again))).toEqual([
      [28, 0, 240],
      [28, 240, 480],
    ]);
  });
  it('that never end last to the end of the track', () => {
    const open = [0, 0x90, 28, 80, 96, 33, 80, 96, 0x80, 33, 0];
    expect(heard(file(96, open))[0]).toEqual([28, 0, 480]);
    expect(codes(file(96, open))).toContain('midi-open');
  });
  it('begin in their own bar, rests before that bar left out', () => {
    expect(heard(file(24, note(108, 28, 24)))).toEqual([[28, 240, 480]]);
    expect(codes(file(24, note(108, 28, 24)))).toEqual(['midi-rest']);
  });
});

describe('what the file says of the whole', () => {
  const heading = [
    ...[0, 0xff, 0x51, 3, 0x06, 0xdd, 0xd0],
    ...[0, 0xff, 0x58, 4, 3, 2, 24, 8],
    ...[0, 0xff, 0x59, 2, 0xfd, 1],
  ];
  it('is its tempo, meter, key and name', () => {
    const bytes = file(96, [...named('Low part'), ...heading, ...note(0, 36, 96)]);
    expect(readMidiLine(bytes)).toMatchObject({
      tempo: 133.3,
      meter: { beats: 3, unit: 4 },
      key: { tonic: 'C', mode: 'minor', fifths: -3 },
      title: 'Low part',
    });
  });
  it('is told where it changes', () => {
    const change = [...note(0, 36, 96), 0, 0xff, 0x51, 3, 7, 0xa1, 0x20, 0, 0xff, 0x58, 4, 4, 2, 24, 8];
    expect(codes(file(96, [...heading, ...change, ...note(0, 38, 96)]))).toEqual([
      'midi-meter',
      'midi-tempo',
    ]);
  });
});

describe('the part', () => {
  const piano = [...named('Piano'), ...note(0, 60, 96), ...note(0, 62, 96), ...note(0, 64, 96)];
  const bass = [...named('Upright bass'), ...note(0, 36, 96)];
  const low = [...named('Left'), ...note(0, 30, 96), ...note(0, 31, 96)];
  const drums = [...named('Kit bass drum'), ...note(0, 36, 96, 9)];

  it('is the one called a bass, the bass program, or the lowest with many notes; never the drums', () => {
    expect(heard(file(96, piano, low, bass, drums))[0]![0]).toBe(36);
    expect(heard(file(96, piano, low, drums))[0]![0]).toBe(30);
    expect(heard(file(96, piano, [0, 0xc0, 32, ...note(0, 50, 96)], low))[0]![0]).toBe(50);
    expect(codes(file(96, drums))).toEqual(['midi-no-notes']);
  });
  it('is chosen by its number', () => {
    expect(heard(file(96, piano, low, bass), 1)[0]![0]).toBe(60);
    expect(codes(file(96, piano, bass), 7)).toEqual(['midi-no-track']);
    expect(readMidiLine(file(96, piano, bass), 7).problems[0]!.message).toContain(
      '2 “Upright bass” (1 notes)',
    );
  });
});

describe('files that are not read', () => {
  const good = file(96, note(0, 28, 96));
  test.each([
    ['no MIDI', new Uint8Array(word('RIFFxxxxxxxx')), 'midi-none'],
    ['nothing', new Uint8Array(), 'midi-none'],
    ['a short header', new Uint8Array([...word('MThd'), 0, 0, 0, 2, 0, 1]), 'midi-header'],
    ['format 2', new Uint8Array([...header(2, 1, 96), ...good.subarray(14)]), 'midi-format'],
    ['film frames', new Uint8Array([...header(0, 1, 0xe728), ...good.subarray(14)]), 'midi-frames'],
    ['no ticks', new Uint8Array([...header(0, 1, 0), ...good.subarray(14)]), 'midi-header'],
    ['no status to run on', file(96, [0, 28, 80]), 'midi-broken'],
    ['a status where data belongs', file(96, [0, 0x90, 0x90, 80]), 'midi-broken'],
    ['a length without end', file(96, [0xff, 0xff, 0xff, 0xff, 0xff, 0x90, 28, 80]), 'midi-broken'],
    ['a text longer than the file', file(96, [0, 0xff, 3, 0x7f, 65]), 'midi-cut'],
    ['a real-time message', file(96, [0, 0xf8]), 'midi-broken'],
  ])('%s', (_, bytes, code) => {
    const { notes, problems } = readMidiLine(bytes);
    expect(notes).toEqual([]);
    expect(problems.map((problem) => problem.code)).toEqual([code]);
    expect(problems[0]!.message).not.toMatch(/[{}]|undefined/);
  });
  it('cut anywhere, with the place', () => {
    for (let length = 4; length < good.length; length += 1) {
      const { notes, problems } = readMidiLine(good.slice(0, length));
      expect(notes, `${length} bytes`).toEqual([]);
      expect(problems[0]).toMatchObject({ severity: 'error' });
      expect(problems[0]!.column).toBeGreaterThan(0);
    }
  });
  it('with more events than any tune', () => {
    const many = Array.from({ length: 210_000 }, () => [0, 0xb0, 1, 1]).flat();
    expect(codes(file(96, many))).toEqual(['midi-large']);
  });
  it('whatever the bytes are, without a throw', () => {
    const mutated = fc
      .array(fc.tuple(fc.nat(good.length - 1), fc.nat(255)), { maxLength: 6 })
      .map((changes) => {
        const bytes = good.slice();
        for (const [at, value] of changes) bytes[at] = value;
        return bytes;
      });
    const any = fc.oneof(
      mutated,
      fc.uint8Array({ maxLength: 200 }).map((rest) => new Uint8Array([...good.subarray(0, 22), ...rest])),
    );
    fc.assert(
      fc.property(any, (bytes) => {
        const { notes } = readMidiLine(bytes);
        notes.forEach((one, index) => {
          const next = notes[index + 1];
          expect(one.ticks).toBeGreaterThan(0);
          if (next) expect(one.tick + one.ticks).toBeLessThanOrEqual(next.tick);
        });
      }),
      { numRuns: 3000, seed: 11 },
    );
  });
});

describe('an independent reader', () => {
  it('finds the same notes in a line that we wrote', () => {
    const result = walk(requestFor('Key: F\nTempo: 180\n| F7 | Bb7 | Gm7 C7 | F7 D7 |'));
    const bytes = toMidi(result.timeline!, result.line!);
    expect(isMidi(bytes)).toBe(true);
    const tracks = parseMidi(bytes).tracks;
    const independent = tracks
      .flat()
      .flatMap((event) =>
        event.type === 'noteOn' && event.velocity > 0 && event.channel !== 9 ? [event.noteNumber] : [],
      );
    const { notes, tempo, key, meter } = readMidiLine(bytes);
    expect(notes.map(({ midi }) => midi)).toEqual(independent);
    expect(notes.map(({ midi }) => midi)).toEqual(result.line!.notes.map(({ midi }) => midi));
    expect({ tempo, key, meter }).toMatchObject({ tempo: 180, key: { tonic: 'F' }, meter: { beats: 4 } });
    const fingered = fingerLine(notes, {
      instrument: defaultInstrument,
      hand: defaultHand,
      tempo: bpm(120),
      limits: { barredPositions: [] },
      way: 'open',
    });
    expect(fingered.line?.notes.length).toBe(notes.length);
  });
});
