// A line of the player's own over changes: its notes stand, chords stay over it, both fingerings hold.
import { describe, expect, it } from 'vitest';
import { soundingMidi } from '../../../src/music';
import { findKey } from '../../../src/state/keys';
import { toMidi, toMusicXml } from '../../../src/export';
import {
  explain,
  importText,
  readMidiLine,
  walk,
  type OwnLine,
  type OwnNote,
  type WalkResult,
} from '../../../src/pipeline';
import { requestFor } from '../request';

const chart = 'Title: Own\nKey: C\nTempo: 120\n| Dm7 | G7 | C6 | N.C. |';

const note = (
  bar: number,
  at: number,
  ticks: number,
  midi: number,
  held: Partial<OwnNote> = {},
): OwnNote => ({
  ...{ bar, at, ticks, midi: soundingMidi(midi), string: null, finger: null, otherFingers: [] },
  ...held,
});
/** A rest to begin with, an off-beat, a note over the bar line, one where no chord sounds. */
const notes = [
  note(0, 480, 480, 38),
  note(0, 1200, 960, 41),
  note(1, 480, 240, 43, { string: 1, finger: '0' }),
  note(1, 720, 240, 45, { string: 2, finger: '4' }),
  note(2, 0, 1920, 36),
  note(3, 960, 480, 40),
];
const own = (fingering: OwnLine['fingering'] = 'ours', all: readonly OwnNote[] = notes): OwnLine => ({
  notes: all,
  fingering,
});
const heard = ({ line }: WalkResult): number[][] =>
  line!.notes.map(({ midi, tick, ticks }) => [midi, tick, ticks]);

describe('a line of one’s own', () => {
  it('without a note is an empty line over its bars', () => {
    const { line, timeline, problems } = walk(requestFor(chart, { own: own('ours', []) }));
    expect(line).toMatchObject({ notes: [], devices: [], cost: 0 });
    expect(line!.report.byRegion.every(({ share }) => share === 0)).toBe(true);
    expect(timeline!.bars.length).toBeGreaterThan(0);
    expect(problems).toEqual([]);
    // It leaves as bars of rest.
    expect(toMusicXml(timeline!, line!, { positionName: String })).toContain('<rest');
    expect(readMidiLine(toMidi(timeline!, line!)).notes).toEqual([]);
  });
  const result = walk(requestFor(chart, { own: own() }));

  it('stands as it is, rests, off-beats and all', () => {
    expect(heard(result)).toEqual([
      [38, 480, 480],
      [41, 1200, 960],
      [43, 2400, 240],
      [45, 2640, 240],
      [36, 3840, 1920],
      [40, 6720, 480],
    ]);
    expect(result.impossible).toBeNull();
    expect(result.timeline!.slots).toHaveLength(6);
  });

  it('says of notes that lie in no bar of the changes that they are not played', () => {
    const longer = [...notes, note(4, 0, 480, 36), note(9, 0, 480, 38)];
    const { line, problems } = walk(requestFor(chart, { own: own('ours', longer) }));
    expect(line!.notes).toHaveLength(notes.length);
    expect(problems.filter(({ code }) => code === 'own-outside').map(({ message }) => message)).toEqual([
      '2 notes of your line lie outside the bars of the changes and are not played.',
    ]);
    expect(result.problems).toEqual([]);
  });

  it('has the chords of the chart over it', () => {
    const chords = result.line!.notes.map(({ slot }) => slot.harmony.chord?.symbol ?? null);
    expect(chords).toEqual(['Dm7', 'Dm7', 'G7', 'G7', 'C6', null]);
    expect(result.timeline!.bars).toHaveLength(4);
  });

  it('has our fingers, or those of the file where it says any', () => {
    const theirs = walk(requestFor(chart, { own: own('theirs') })).line!.notes.map((one) => one.placement);
    expect(theirs[2]).toMatchObject({ string: 1, finger: '0' });
    expect(theirs[3]).toMatchObject({ string: 2, finger: '4' });
    const ours = result.line!;
    const forced = walk(requestFor(chart, { own: own('theirs') })).line!;
    expect(forced.cost).toBeGreaterThanOrEqual(ours.cost);
  });

  it('gives our fingers, and says so, where those of the file cannot be held', () => {
    const wrong = notes.map((one, at) => (at === 2 ? { ...one, string: 4, finger: 'T' as const } : one));
    const { line, problems } = walk(requestFor(chart, { own: own('theirs', wrong) }));
    expect(line!.notes).toHaveLength(6);
    expect(problems.map(({ code }) => code)).toContain('fingers-not-held');
  });

  it('goes on through further choruses', () => {
    const twice = heard(walk(requestFor(chart, { own: own(), choruses: 2 })));
    expect(twice).toHaveLength(12);
    expect(twice.slice(6).map(([midi, tick]) => [midi, tick! - 4 * 1920])).toEqual(
      heard(result).map(([midi, tick]) => [midi, tick]),
    );
  });

  it('moves with its chart, and stays on the bass', () => {
    const inKey = (name: string): number[] =>
      walk(requestFor(chart, { own: own(), key: findKey(name)! })).line!.notes.map(({ midi }) => midi);
    expect(inKey('D major')).toEqual(notes.map(({ midi }) => midi + 2));
    expect(inKey('B major')).toEqual(notes.map(({ midi }) => midi - 1));
    const low = [note(0, 0, 480, 28)];
    const moved = walk(requestFor(chart, { own: own('ours', low), key: findKey('B major')! }));
    expect(moved.line!.notes[0]!.midi).toBe(39);
  });

  it('needs no chords', () => {
    const bare = 'Key: C\nTempo: 90\n| N.C. | N.C. |';
    const { line, problems } = walk(requestFor(bare, { own: own('ours', notes.slice(0, 4)) }));
    expect(line!.notes).toHaveLength(4);
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
  });

  it('is named where this bass has not its notes', () => {
    const { line, problems } = walk(requestFor(chart, { own: own('ours', [note(0, 0, 480, 12)]) }));
    expect(line).toBeNull();
    expect(problems.map(({ code }) => code)).toContain('too-low');
  });

  it('has no prices of other notes', () => {
    const request = requestFor(chart, { own: own() });
    expect(explain(request, walk(request), { room: false })).toBeNull();
  });
});

describe('two fingerings of one line', () => {
  const both = (fingering: OwnLine['fingering'], all = notes): WalkResult =>
    walk(requestFor(chart, { own: own(fingering, all) }));
  const held = (line: WalkResult['otherFingers']): string[] =>
    line!.notes.map(({ placement }) => `${placement.string}${placement.finger}`);

  it('are told together, each as it is where it is asked for', () => {
    const [ours, theirs] = [both('ours'), both('theirs')];
    expect(held(ours.otherFingers)).toEqual(held(theirs.line));
    expect(held(theirs.otherFingers)).toEqual(held(ours.line));
    expect(held(theirs.line)).not.toEqual(held(ours.line));
  });

  it('are one where the file says nothing, or nothing that a hand can hold', () => {
    const plain = notes.map((one) => ({ ...one, string: null, finger: null }));
    expect(both('ours', plain).otherFingers).toBeNull();
    const unheld = [...plain.slice(0, 5), note(3, 960, 480, 40, { string: 1, finger: '4' })];
    expect(both('theirs', unheld).otherFingers).toBeNull();
    expect(both('ours', unheld).otherFingers).toBeNull();
  });

  it('stand together in MusicXML, and come back with it', () => {
    const { line, timeline, otherFingers } = both('theirs');
    const positionName = (position: number): string => String(position);
    const xml = toMusicXml(timeline!, line!, { positionName, otherFingers: otherFingers! });
    const others = otherFingers!.notes.map(({ placement }) => placement);
    const differ = line!.notes.flatMap(({ placement: { finger, string } }, at) =>
      finger !== others[at]!.finger || string !== others[at]!.string ? [others[at]!] : [],
    );
    expect(differ.length).toBeGreaterThan(0);
    const alternates = [...xml.matchAll(/<fingering alternate="yes">(.)<\/fingering>(?:\s*<string>(\d))?/g)];
    expect(alternates.map(([, finger]) => finger)).toEqual(differ.map(({ finger }) => finger));
    const { line: again } = importText(xml);
    expect(again!.map(({ string, finger }) => `${string}${finger}`)).toEqual(held(line));
    expect(again!.filter(({ otherFingers: fingers }) => fingers.length > 0).length).toBeGreaterThan(0);
  });

  it('have the other string beside its finger in MusicXML, on a level of its own', () => {
    // An open D is as well D on the A string, or on the E string.
    const open = notes.map((one) => (one.midi === 38 ? { ...one, string: 3, finger: '4' as const } : one));
    const { line, timeline, otherFingers } = both('ours', open);
    const [ours, theirs] = [line!.notes[0]!.placement, otherFingers!.notes[0]!.placement];
    expect(theirs).toMatchObject({ string: 3, finger: '4' });
    expect(ours.string).not.toBe(3);
    const [first] = toMusicXml(timeline!, line!, { positionName: String, otherFingers: otherFingers! })
      .replace(/>\s+</g, '><')
      .match(/<note><pitch>.*?<\/note>/)!;
    expect(first).toContain(
      `<string>${ours.string}</string><open-string/></technical></notations><notations><level>alternative fingering</level>` +
        '<technical><fingering alternate="yes">4</fingering><string>3</string></technical></notations>',
    );
  });
});
