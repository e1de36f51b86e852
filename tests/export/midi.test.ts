import fc from 'fast-check';
import { parseMidi, type MidiEvent, type MidiTrackNameEvent } from 'midi-file';
import { describe, expect, it } from 'vitest';
import { noteName, makeKey, parseKey, swungTick, ticks } from '../../src/music';
import { toMidi } from '../../src/export';
import { makeTest, wholeBar, type BarSpec, type NoteSpec } from './build';

type Timed<E> = E & { readonly tick: number };

function timed(track: readonly MidiEvent[]): Timed<MidiEvent>[] {
  let tick = 0;
  return track.map((event) => {
    tick += event.deltaTime;
    return { ...event, tick };
  });
}

function read(
  spec: { bars: readonly BarSpec[]; tempo?: number; title?: string },
  notes: readonly NoteSpec[],
  swing = 1,
) {
  const { timeline, line } = makeTest(spec, notes);
  const file = parseMidi(toMidi(timeline, line, { swing }));
  const [conductor, bass] = file.tracks.map(timed);
  return { file, timeline, line, conductor: conductor!, bass: bass! };
}

/** [onset, end, pitch] of every note, checking that no note is struck while it sounds. */
function notesOf(track: readonly Timed<MidiEvent>[]): [number, number, number][] {
  const notes: [number, number, number][] = [];
  let sounding: { tick: number; pitch: number } | null = null;
  for (const event of track) {
    if (event.type === 'noteOn') {
      expect(sounding).toBeNull();
      sounding = { tick: event.tick, pitch: event.noteNumber };
    } else if (event.type === 'noteOff') {
      expect(sounding?.pitch).toBe(event.noteNumber);
      notes.push([sounding!.tick, event.tick, event.noteNumber]);
      sounding = null;
    }
  }
  expect(sounding).toBeNull();
  return notes;
}

const of = <T extends MidiEvent['type']>(track: readonly Timed<MidiEvent>[], type: T) =>
  track.filter((event): event is Timed<Extract<MidiEvent, { type: T }>> => event.type === type);

const quarter = (index: number, midi: number): NoteSpec => ({ tick: index * 480, ticks: 480, midi });

describe('toMidi', () => {
  it('is a format 1 file of 480 ticks with an acoustic bass on channel 1', () => {
    const { file, bass } = read({ bars: [{}] }, [quarter(0, 36)]);
    expect(file.header).toMatchObject({ format: 1, numTracks: 2, ticksPerBeat: 480 });
    expect(of(bass, 'programChange')).toMatchObject([{ channel: 0, programNumber: 32 }]);
    expect(of(bass, 'noteOn')).toMatchObject([{ channel: 0 }]);
  });

  // Open strings sound E1 A1 D2 G2: shared/design/3-bass-and-hand.md gives MIDI 28 33 38 43.
  it('sounds the open strings E A D G as 28 33 38 43', () => {
    const { bass } = read(
      { bars: [{}] },
      [28, 33, 38, 43].map((midi, index) => quarter(index, midi)),
    );
    expect(notesOf(bass)).toEqual([
      [0, 480, 28],
      [480, 960, 33],
      [960, 1440, 38],
      [1440, 1920, 43],
    ]);
  });

  it('ends every track where the form ends, rests included', () => {
    const { conductor, bass } = read({ bars: [{}, {}] }, [{ tick: 960, ticks: 480, midi: 36 }]);
    expect(conductor.at(-1)).toMatchObject({ type: 'endOfTrack', tick: 3840 });
    expect(bass.at(-1)).toMatchObject({ type: 'endOfTrack', tick: 3840 });
  });

  it.each([40, 97, 132, 137, 144.5, 163, 320])('gives back a tempo of %f', (tempo) => {
    const { conductor } = read({ bars: [{}], tempo }, []);
    const [event] = of(conductor, 'setTempo');
    expect(event!.microsecondsPerBeat).toBe(Math.round(60e6 / tempo));
    expect(Math.round((60e6 / event!.microsecondsPerBeat) * 10) / 10).toBe(tempo);
  });

  it('writes meters with their clocks, keys, and their changes at their ticks', () => {
    const bars: BarSpec[] = [
      { meter: { beats: 4, unit: 4 }, key: parseKey('Bb')! },
      { meter: { beats: 3, unit: 4 }, key: parseKey('C minor')! },
      { meter: { beats: 3, unit: 4 }, key: parseKey('C minor')! },
      { meter: { beats: 7, unit: 4 }, key: makeKey(noteName('C#'), 'major') },
      { meter: { beats: 7, unit: 8 } },
      { meter: { beats: 6, unit: 8 } },
      { meter: { beats: 2, unit: 2 } },
      { meter: { beats: 12, unit: 8 } },
    ];
    const { conductor } = read({ bars }, []);
    expect(
      of(conductor, 'timeSignature').map(({ tick, numerator, denominator, metronome, thirtyseconds }) => [
        tick,
        numerator,
        denominator,
        metronome,
        thirtyseconds,
      ]),
    ).toEqual([
      [0, 4, 4, 24, 8],
      [1920, 3, 4, 24, 8],
      [4800, 7, 4, 24, 8],
      [8160, 7, 8, 12, 8],
      [9840, 6, 8, 36, 8],
      [11280, 2, 2, 48, 8],
      [13200, 12, 8, 36, 8],
    ]);
    expect(of(conductor, 'keySignature').map(({ tick, key, scale }) => [tick, key, scale])).toEqual([
      [0, -2, 0],
      [1920, -3, 1],
      [4800, 7, 0],
      [8160, 0, 0],
    ]);
  });

  it('marks sections and chords, texts in UTF-8', () => {
    const bars: BarSpec[] = [
      {
        section: 'Thème ♭',
        chords: [
          [0, 'Bbm7'],
          [960, 'F#7b9'],
        ],
      },
      { chords: [[0, 'F#7b9']] },
      {
        section: 'B',
        chords: [
          [0, 'F#7b9'],
          [960, 'N.C.'],
        ],
      },
    ];
    const { conductor } = read({ bars, title: 'Étude en mi♭' }, []);
    const decode = (text: string): string =>
      new TextDecoder('utf-8', { fatal: true }).decode(Buffer.from(text, 'latin1'));
    expect(of(conductor, 'marker').map(({ tick, text }) => [tick, decode(text)])).toEqual([
      [0, 'Thème ♭'],
      [3840, 'B'],
    ]);
    expect(of(conductor, 'text').map(({ tick, text }) => [tick, decode(text)])).toEqual([
      [0, 'Bbm7'],
      [960, 'F#7b9'],
      [3840, 'F#7b9'],
      [4800, 'N.C.'],
    ]);
    expect(decode((of(conductor, 'trackName')[0] as MidiTrackNameEvent).text)).toBe('Étude en mi♭');
  });

  it('swings the off-beat eighths as playback does, ends with them', () => {
    const ratio = 1.96;
    const notes = [
      { tick: 0, ticks: 240, midi: 36 },
      { tick: 240, ticks: 240, midi: 38 },
      { tick: 480, ticks: 320, midi: 40 },
      { tick: 800, ticks: 160, midi: 41 },
    ];
    const { bass } = read({ bars: [{}] }, notes, ratio);
    const off = swungTick(ticks(240), ratio);
    expect(off).toBe(Math.round((480 * 1.96) / 2.96));
    expect(notesOf(bass)).toEqual([
      [0, off, 36],
      [off, 480, 38],
      [480, 800, 40],
      [800, 960, 41],
    ]);
  });

  it('plays a note tied over the bar line once', () => {
    const { bass } = read({ bars: [{}, {}] }, [{ tick: 1440, ticks: 960, midi: 36 }]);
    expect(notesOf(bass)).toEqual([[1440, 2400, 36]]);
  });

  it('gives a note without length one tick, and ends a note before the next begins', () => {
    const { bass } = read({ bars: [{}] }, [
      { tick: 0, ticks: 0, midi: 36 },
      { tick: 480, ticks: 960, midi: 36 },
      { tick: 960, ticks: 480, midi: 36 },
      { tick: 1440, ticks: 9999, midi: 40 },
    ]);
    expect(notesOf(bass)).toEqual([
      [0, 1, 36],
      [480, 960, 36],
      [960, 1440, 36],
      [1440, 1920, 40],
    ]);
  });

  it('gives back a thousand bars', () => {
    const bars = Array.from({ length: 1000 }, () => ({}));
    const notes = Array.from({ length: 4000 }, (_, index) => quarter(index, 28 + (index % 20)));
    const { bass } = read({ bars }, notes);
    expect(notesOf(bass)).toEqual(notes.map(({ tick, midi }) => [tick, tick + 480, midi]));
  });
});

const meterArbitrary = fc.constantFrom(
  ...([
    [2, 4],
    [3, 4],
    [4, 4],
    [5, 4],
    [6, 4],
    [7, 4],
    [2, 2],
    [3, 2],
    [5, 8],
    [6, 8],
    [7, 8],
    [9, 8],
    [12, 8],
  ] as const),
);

it('gives back the notes of any line', () => {
  fc.assert(
    fc.property(
      fc.array(meterArbitrary, { minLength: 1, maxLength: 5 }),
      fc.array(fc.tuple(fc.integer({ min: 1, max: 12 }), fc.nat(3), fc.integer({ min: 28, max: 60 })), {
        maxLength: 20,
      }),
      (meters, steps) => {
        const bars = meters.map(([beats, unit]) => ({ meter: { beats, unit } }));
        const end = bars.reduce((sum, { meter }) => sum + wholeBar(meter), 0);
        let tick = 0;
        const notes = steps.flatMap(([length, gap, midi]) => {
          const start = tick + gap * 240;
          tick = start + length * 240;
          return tick <= end ? [{ tick: start, ticks: length * 240, midi }] : [];
        });
        const { bass } = read({ bars }, notes);
        expect(notesOf(bass)).toEqual(notes.map((note) => [note.tick, note.tick + note.ticks, note.midi]));
        expect(bass.at(-1)).toMatchObject({ type: 'endOfTrack', tick: end });
      },
    ),
    { numRuns: 100 },
  );
});
