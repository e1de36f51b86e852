// The notes of an ABC voice as a given line. Pitches and lengths are those of ABC notation 2.1; that a plain bass clef sounds
// an octave lower is how bass players read (common practice, no source).
import abcjs from 'abcjs';
import { describe, expect, it } from 'vitest';
import { importText, type ImportReading } from '../../../src/pipeline/1-chart/import';

const tune = (body: string, key = 'C octave=-1', header = ''): string =>
  `X:1\nT:Ours\nM:4/4\nL:1/4\n${header}K:${key}\n${body}\n`;
const read = (body: string, key?: string, header?: string): ImportReading =>
  importText(tune(body, key, header));
/** "1 F1 480": bar from 1, sounding pitch, ticks; with the place in the bar where it is not its start. */
const notes = (reading: ImportReading): readonly string[] =>
  (reading.line ?? []).map(
    ({ bar, offset, ticks, pitch }) =>
      `${bar + 1}${offset === 0 ? '' : `+${offset}`} ${pitch.name}${pitch.octave} ${ticks}`,
  );
const codes = ({ problems }: ImportReading): readonly string[] => problems.map(({ code }) => code);
const midi = (reading: ImportReading): readonly number[] => (reading.line ?? []).map((note) => note.midi);

describe('pitches', () => {
  it.each([
    ['C,, E,, A,, D, G, C', [24, 28, 33, 38, 43, 48], 'C octave=-1'],
    ["C c c' C,", [60, 72, 84, 48], 'C'],
    ['F G A B', [66, 67, 69, 71], 'G'],
    ['B E A D', [70, 63, 68, 61], 'Ab'],
    ['F C G D', [66, 61, 67, 62], 'Bm'],
  ])('of %s are %j in K:%s', (body, expected, key) => {
    expect(midi(read(`${body} |`, key))).toEqual(expected);
  });

  it('keep their accidentals through the bar, in every octave, and no further', () => {
    expect(midi(read('^F F f =F | F _B B ^^C | C4 |', 'C'))).toEqual([66, 66, 78, 65, 65, 70, 70, 62, 60]);
  });

  it('keep the spelling', () => {
    expect(notes(read('_E ^D __B =B |', 'C'))).toEqual([
      '1 Eb4 480',
      '1+480 D#4 480',
      '1+960 Bbb4 480',
      '1+1440 B4 480',
    ]);
  });

  it('follow a key that changes in the tune', () => {
    expect(midi(read('F4 | [K:D] F4 |\nK:F\nB4 |', 'C'))).toEqual([65, 66, 70]);
  });

  it.each([
    ['C', [48, 43]],
    ['C octave=-1', [36, 31]],
    ['C bass octave=0', [48, 43]],
    ['C clef=bass-8', [36, 31]],
    ['C bass octave=-1', [36, 31]],
    ['C clef=bass transpose=-12', [36, 31]],
    ['C transpose=-2', [46, 41]],
    ['C clef=bass', [36, 31]],
    ['C bass', [36, 31]],
  ])('sound as K:%s says', (key, expected) => {
    expect(midi(read('C, G,, |', key))).toEqual(expected);
  });

  it('of a plain bass clef that already stand as they sound stay', () => {
    const reading = read('E,,, A,,, D,, G,, |', 'C clef=bass');
    expect(midi(reading)).toEqual([28, 33, 38, 43]);
    expect(codes(reading)).not.toContain('line-octave');
    expect(codes(read('E,, A,, D, G, |', 'C clef=bass'))).toContain('line-octave');
  });

  it('move their names with transpose=', () => {
    expect(notes(read('D, |', 'D transpose=-2'))).toEqual(['1 C3 480']);
  });
});

describe('lengths', () => {
  it.each([
    ['C2 D/2 E/ z', ['1 C3 960', '1+960 D3 240', '1+1200 E3 240']],
    ['C>D E<F', ['1 C3 720', '1+720 D3 240', '1+960 E3 240', '1+1200 F3 720']],
    ['C>>D z2', ['1 C3 840', '1+840 D3 120']],
    ['(3CDE F2', ['1 C3 320', '1+320 D3 320', '1+640 E3 320', '1+960 F3 960']],
    ['(3:2:2C2D E2', ['1 C3 640', '1+640 D3 320', '1+960 E3 960']],
    ['C3- C | C2 D2', ['1 C3 1920', '2 C3 960', '2+960 D3 960']],
    ['C4- | C2 D2', ['1 C3 2880', '2+960 D3 960']],
    ['^F4- | F2 F2', ['1 F#3 2880', '2+960 F3 960']],
    ['C2 z D', ['1 C3 960', '1+1440 D3 480']],
    ['{g}C2 !fermata!D2', ['1 C3 960', '1+960 D3 960']],
    ['C4 & G4 | D4', ['1 C3 1920', '2 D3 1920']],
    ['C2 D2 | Z | E4', ['1 C3 960', '1+960 D3 960', '3 E3 1920']],
  ])('of %s', (body, expected) => expect(notes(read(`${body} |`))).toEqual(expected));

  it('of several notes at once: the lowest, which is told', () => {
    const reading = read('[CEG]2 [E,"C7"B,]2 |');
    expect(notes(reading)).toEqual(['1 C3 960', '1+960 E2 960']);
    expect(codes(reading)).toContain('line-chords');
  });

  it('begin in the bar of a repeat that they stand in', () => {
    expect(notes(read('|: C4 | D4 :| E4 |'))).toEqual(['1 C3 1920', '2 D3 1920', '3 E3 1920']);
  });
});

describe('fingers and voices', () => {
  it('come with their decorations', () => {
    const reading = read('!1!C !4!D !0!E !thumb!F |');
    expect(reading.line!.map(({ finger }) => finger)).toEqual(['1', '4', '0', 'T']);
  });

  it('the first voice with notes is the line; a bass clef comes before it', () => {
    const two = 'V:1\n"C7"c4 | c4 |\nV:2 clef=bass\nC,4 | G,,4 |';
    expect(midi(read(two, 'C'))).toEqual([36, 31]);
    expect(midi(read(two.replace(' clef=bass', ''), 'C'))).toEqual([72, 72]);
    expect(midi(read('V:1\nc4 |\nV:2\nC,4 |', 'C', 'V:1 clef=treble\nV:2 clef=bass octave=-1\n'))).toEqual([
      36,
    ]);
  });

  it('there is none in a tune of rests', () => expect(read('"C7"z4 | "F7"z4 |').line).toBeNull());
});

/** What the independent reader plays. */
interface Played {
  readonly tracks: readonly (readonly {
    readonly cmd: string;
    readonly pitch: number;
    /** In whole notes. */
    readonly start: number;
  }[])[];
}

describe('an independent reader', () => {
  it.each([
    ['C D E F | G A B c |', 'C'],
    ['F>G A<B | ^F F =F F | F4 |', 'Bb'],
    ['(3FGA F2 | c4- | c2 B2 |', 'Eb'],
    ['_B B z B | B4 |', 'C'],
    ['^c d e/f/g/a/ | b2- b a |', 'G'],
    ['C,, E, G c | z2 [CEG]2 |', 'C octave=-1'],
  ])('hears %s in K:%s at the same pitches and times', (body, key) => {
    const text = tune(body, key);
    const [parsed] = abcjs.parseOnly(text);
    const { tracks } = parsed.setUpAudio({}) as unknown as Played;
    const theirs = tracks.flat().filter(({ cmd }) => cmd === 'note');
    // Of notes at once ours is the lowest.
    const lowest = theirs.filter(
      ({ start, pitch }) => !theirs.some((other) => other.start === start && other.pitch < pitch),
    );
    const ours = importText(text).line!;
    expect(ours.map((note) => note.midi)).toEqual(lowest.map(({ pitch }) => pitch));
    ours.forEach(({ bar, offset }, index) =>
      expect(bar + offset / 1920).toBeCloseTo(lowest[index]!.start, 3),
    );
  });
});
