// A line opened from a file on the screen: what lies on the bench afterwards, and what is refused.
import { describe, expect, it } from 'vitest';
import { toMidi, toMusicXml } from '../../../src/export';
import { positionName } from '../../../src/instrument';
import { parseNotes, readGivenLine } from '../../../src/pipeline';
import { LineOpener, lineOpened, readBothWays, type ConnectLine } from '../../../src/state/both-ways';
import { mostOpenedBytes } from '../../../src/state/reading';
import { doers } from '../../../src/worker/doers';
import { attributes, note, score } from '../../pipeline/import/score';
import { chartText, walked } from '../../pipeline/request';

const found = walked(chartText('back-stairs-blues.txt'), { take: { seed: 3, temperature: 1 } });
const wanted = found.line.notes.map(({ midi, tick, ticks }) => ({ midi, tick, ticks }));
const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const atOnce: ConnectLine = (onanswer) => ({
  request: (ask) => onanswer({ ask, answer: doers.readLine(ask, () => undefined) }),
  cancel: () => undefined,
  dispose: () => undefined,
});

describe('a file with a line', () => {
  it.each([
    ['MIDI', toMidi(found.timeline, found.line)],
    ['MusicXML', bytes(toMusicXml(found.timeline, found.line, { positionName }))],
  ])('of %s becomes the same notes as text, note for note', async (_, file) => {
    const opened = await new LineOpener(atOnce).open({ file, part: null });
    if (opened?.kind !== 'opened') throw new Error('not opened');
    expect(opened.count).toBe(wanted.length);
    const { notes, problems } = parseNotes(opened.wish.own!);
    expect(problems).toEqual([]);
    expect(notes.map(({ midi, tick, ticks }) => ({ midi, tick, ticks }))).toEqual(wanted);
    expect(opened.wish).toMatchObject({ source: 'own', ownMeter: '4/4', ownTitle: 'Back Stairs Blues' });
  });

  it('of MusicXML brings the fingers and strings that stand in it, and no other file does', async () => {
    const file = bytes(toMusicXml(found.timeline, found.line, { positionName }));
    const opened = await new LineOpener(atOnce).open({ file, part: null });
    if (opened?.kind !== 'opened') throw new Error('not opened');
    expect(opened.wish.ownPrinted).toEqual(
      found.line.notes.map(({ placement: { string, finger } }) => ({ string, finger, otherFingers: [] })),
    );
    expect(readBothWays({ ...opened.wish }).ownPrinted).toEqual(opened.wish.ownPrinted);
    const midi = lineOpened(readGivenLine(toMidi(found.timeline, found.line)));
    expect(midi).toMatchObject({ wish: { ownPrinted: [] } });
  });

  it('of ABC brings its key, meter and title', async () => {
    const abc = 'X:1\nT:Three Steps\nM:3/4\nL:1/4\nK:Bb clef=bass\nB,, C, D, | F,3 |]\n';
    const opened = await new LineOpener(atOnce).open({ file: bytes(abc), part: null });
    if (opened?.kind !== 'opened') throw new Error('not opened');
    expect(opened.wish).toMatchObject({ ownTitle: 'Three Steps', ownKey: 'Bb major', ownMeter: '3/4' });
    const { notes } = parseNotes(opened.wish.own!);
    expect(notes.map(({ name }) => name)).toEqual(['Bb', 'C', 'D', 'F']);
  });

  it('without notes, or too large, is refused and says so', async () => {
    const opener = new LineOpener(atOnce);
    expect(await opener.open({ file: bytes('nothing here'), part: null })).toMatchObject({
      kind: 'refused',
      fault: 'no notes',
    });
    expect(await opener.open({ file: new Uint8Array(mostOpenedBytes + 1), part: null })).toMatchObject({
      fault: 'too large',
    });
  });

  const clefs =
    '<staves>2</staves><clef number="1"><sign>G</sign><line>2</line></clef><clef number="2"><sign>F</sign><line>4</line></clef>';
  const hands = ['E4', 'G4', 'C5', 'G4', 'E4'].map((pitch) => note(pitch, 2, '<staff>1</staff>')).join('');
  const left = ['C2', 'E2', 'G2', 'A2'].map((pitch) => note(pitch, 2, '<staff>2</staff>')).join('');
  const guitarAndPiano = bytes(
    score([
      { listed: '<part-name>Guitar</part-name>', measures: [attributes() + note('A3', 8)] },
      {
        listed: '<part-name>Piano</part-name>',
        measures: [`${attributes(clefs)}${hands}<backup><duration>10</duration></backup>${left}`],
      },
    ]),
  );

  it('of parts none of which is for the bass names them, and takes the one that is chosen', async () => {
    const opener = new LineOpener(atOnce);
    const names = ['1 “Guitar” (1 note)', '2 “Piano” (9 notes)'];
    expect(await opener.open({ file: guitarAndPiano, part: null })).toEqual({
      kind: 'refused',
      fault: 'no bass',
      parts: { names, taken: null },
      problems: [],
    });
    const guitar = await opener.open({ file: guitarAndPiano, part: 1 });
    expect(guitar).toMatchObject({ kind: 'opened', count: 1, parts: { names, taken: 1 } });
    // Of a keyboard the left hand: its own staff, though the right hand has more notes.
    const piano = await opener.open({ file: guitarAndPiano, part: 2 });
    if (piano?.kind !== 'opened') throw new Error('not opened');
    expect(piano.parts).toEqual({ names, taken: 2 });
    expect(parseNotes(piano.wish.own!).notes.map(({ midi }) => midi)).toEqual([36, 40, 43, 45]);
  });

  it('of several parts takes the bass and says which others there are', async () => {
    const { timeline, line } = found;
    const withLead = toMusicXml(timeline, line, { positionName })
      .replace('<score-part ', '<score-part id="P0"><part-name>Lead</part-name></score-part><score-part ')
      .replace(
        '<part ',
        `<part id="P0"><measure number="1">${attributes()}${note('C5', 8)}</measure></part><part `,
      );
    const opened = await new LineOpener(atOnce).open({ file: bytes(withLead), part: null });
    expect(opened).toMatchObject({
      kind: 'opened',
      parts: { names: ['1 “Lead” (1 note)', `2 “Bass” (${wanted.length} notes)`], taken: 2 },
    });
  });

  it('with a hostile title stays text of one line', () => {
    const title = '<img src=x onerror="alert(1)">';
    const opened = lineOpened({
      ...readGivenLine(bytes('F1 G1')),
      frame: { title: `${title}${'x'.repeat(500)}` },
    });
    if (opened.kind !== 'opened') throw new Error('not opened');
    expect(opened.wish.ownTitle!.startsWith(title)).toBe(true);
    expect(opened.wish.ownTitle!.length).toBe(120);
  });

  it('that cannot be read in its thread is refused', async () => {
    const failing: ConnectLine = (_, onfailure) => ({
      request: () => onfailure('out of memory'),
      cancel: () => undefined,
      dispose: () => undefined,
    });
    expect(await new LineOpener(failing).open({ file: bytes('F1'), part: null })).toMatchObject({
      fault: 'not read',
    });
  });
});
