// Opening a file on the screen: what becomes the chart text, what is refused, and what a paste is taken for.
import { strToU8, zipSync } from 'fflate';
import { afterEach, beforeEach, describe, expect, it, test, vi } from 'vitest';
import {
  ChartOpener,
  isFileText,
  openedAs,
  refusedUnread,
  type ChartSource,
  type OpenedChart,
} from '../../src/state/chart-file';
import { mostOpenedBytes, mostReadingTime } from '../../src/state/reading';
import { newStudy } from '../../src/state/document';
import { requestOf } from '../../src/state/request';
import { readChart, walk, type LineNote } from '../../src/pipeline';
import { toMidi } from '../../src/export';
import { TaskClient } from '../../src/worker';
import { doers } from '../../src/worker/doers';
import { handWorkers } from '../worker/hand-worker';

/** What opening comes to, without the thread that it happens in. */
const openChartFile = (source: ChartSource, part: number | null = null): OpenedChart =>
  refusedUnread(source) ?? openedAs(doers.read({ source, part }, () => undefined));

const hostile = '&lt;img src=x onerror=&quot;alert(1)&quot;&gt;&#10;| B7 | B7 |&#10;Key: B';
const score = (title: string): string =>
  `<?xml version="1.0"?><score-partwise version="4.0"><work><work-title>${title}</work-title></work><part-list><score-part id="P1"><part-name>x</part-name></score-part></part-list><part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes><harmony><root><root-step>G</root-step></root><kind>dominant</kind></harmony><note><rest/><duration>4</duration></note></measure></part></score-partwise>`;
const abc = 'X:1\nT:Two\nM:4/4\nL:1/8\nK:C\n"Dm7"z8 | "G7"z8 |]\n';

describe('a file', () => {
  it('of chart text is kept as it is typed', () => {
    const text = '# mine\r\nTitle: Mine\r\n| C7 |\r\n';
    expect(openChartFile(strToU8(text))).toEqual({
      kind: 'opened',
      text: '# mine\nTitle: Mine\n| C7 |\n',
      own: null,
      isBare: false,
      parts: { names: [], taken: null },
      problems: [],
    });
  });
  it('with a line over its chords brings it along, with the fingers that stand there', () => {
    const held = '<notations><technical><fingering>4</fingering><string>3</string></technical></notations>';
    const line = `<note><rest/><duration>1</duration></note><note><pitch><step>D</step><octave>3</octave></pitch><duration>2</duration>${held}</note><note><pitch><step>F</step><octave>3</octave></pitch><duration>1</duration></note>`;
    const withLine = score('One')
      .replace('<note><rest/><duration>4</duration></note>', line)
      .replace('>x<', '>Bass<');
    const opened = openChartFile(strToU8(withLine));
    if (opened.kind !== 'opened') throw new Error(opened.fault);
    expect(opened.own).toMatchObject({
      fingering: 'theirs',
      notes: [
        { bar: 0, at: 480, ticks: 960, string: 3, finger: '4' },
        { bar: 0, at: 1440, ticks: 480, string: null, finger: null },
      ],
    });
    expect(openChartFile(strToU8(score('One')))).toMatchObject({ own: null });
  });
  it('with a line and no chords is bars of rest with the line over them', () => {
    const bare = score('One')
      .replace(/<harmony>.*?<\/harmony>/, '')
      .replace('>x<', '>Bass<')
      .replace('<rest/>', '<pitch><step>D</step><octave>3</octave></pitch>');
    const opened = openChartFile(strToU8(bare));
    if (opened.kind !== 'opened') throw new Error(opened.fault);
    expect(readChart(opened.text).chart.bars).toHaveLength(1);
    expect(opened.own?.notes).toHaveLength(1);
    const { line } = walk(requestOf(newStudy(opened.text, { own: opened.own })));
    expect(line!.notes.map(({ ticks }) => ticks)).toEqual([1920]);
  });
  test.each([
    ['MusicXML', strToU8(score('One')), 'G7'],
    ['compressed MusicXML', zipSync({ 'score.xml': strToU8(score('One')) }), 'G7'],
    ['ABC', strToU8(abc), 'Dm7'],
  ])('of %s becomes chart text', (_, bytes, first) => {
    const opened = openChartFile(bytes);
    if (opened.kind !== 'opened') throw new Error(opened.fault);
    const { chart, problems } = readChart(opened.text);
    expect(problems).toEqual([]);
    expect(chart.bars[0]!.chords[0]!.chord!.symbol).toBe(first);
  });
  it('with a hostile title stays one line of heading and one bar', () => {
    const opened = openChartFile(strToU8(score(hostile)));
    if (opened.kind !== 'opened') throw new Error(opened.fault);
    const { chart } = readChart(opened.text);
    expect(chart.bars.length).toBe(1);
    expect(chart.header.key).toBeNull();
    expect(chart.header.title).toContain('<img src=x onerror="alert(1)">');
  });
  test.each([
    ['nothing', new Uint8Array(), 'no chart'],
    ['no chords', strToU8('\n\n# only a remark\n'), 'no chart'],
    ['a broken archive', zipSync({ 'score.xml': strToU8(score('One')) }).slice(0, 60), 'no chart'],
    ['an entity bomb', strToU8('<!DOCTYPE x [<!ENTITY a "aaaa">]><score-partwise/>'), 'no chart'],
    ['a broken MIDI file', strToU8('MThd\0\0\0\u0006'), 'no chart'],
    ['too many bytes', new Uint8Array(mostOpenedBytes + 1), 'too large'],
    ['too many bars', strToU8('| C7 F7 Bb7 Eb7 '.repeat(6000)), 'too long'],
  ])('of %s is refused', (_, bytes, fault) => {
    expect(openChartFile(bytes)).toMatchObject({ kind: 'refused', fault });
  });
  it('of rests without chord symbols is refused, so that no change is lost for it', () => {
    const { fault } = openChartFile(strToU8('X:1\nK:C\nz8|\n')) as { fault?: string };
    expect(fault).toBe('no chords');
  });
  it('of notes without chord symbols says that it is a line over no chords', () => {
    expect(openChartFile(strToU8('X:1\nM:4/4\nL:1/4\nK:C\nC,,D,,E,,F,,|\n'))).toMatchObject({
      isBare: true,
      problems: [],
    });
  });
  it('of MIDI is its line over bars without chords, in its key, meter and tempo', () => {
    const { line, timeline } = walk(
      requestOf(newStudy('Title: Waltz\nKey: Bb\nMeter: 3/4\nTempo: 150\n| Bb6 | F7 | Bb6 |')),
    );
    const opened = openChartFile(toMidi(timeline!, line!));
    if (opened.kind !== 'opened') throw new Error(opened.fault);
    const { header, bars } = readChart(opened.text).chart;
    expect(header).toMatchObject({ meter: { beats: 3 }, tempo: 150, key: { tonic: 'Bb' }, feel: 'straight' });
    expect(bars.flatMap(({ chords }) => chords.map(({ chord }) => chord))).toEqual([null, null, null]);
    expect(opened).toMatchObject({ isBare: true, own: { fingering: 'ours' } });
    const again = walk(requestOf(newStudy(opened.text, { own: opened.own })));
    const heard = (notes: readonly LineNote[]): number[][] =>
      notes.map(({ midi, tick }) => [midi, tick] as number[]);
    expect(heard(again.line!.notes)).toEqual(heard(line!.notes));
  });
  it('of MIDI with several parts takes the only bass, and asks where that is not clear', () => {
    const track = (name: string, ...notes: readonly number[]): number[] => {
      const struck = notes.flatMap((note) => [0, 0x90, note, 80, 96, 0x80, note, 0]);
      const data = [0, 0xff, 3, name.length, ...strToU8(name), ...struck, 0, 0xff, 0x2f, 0];
      return [...strToU8('MTrk'), 0, 0, 0, data.length, ...data];
    };
    const file = (...tracks: readonly number[][]): Uint8Array =>
      new Uint8Array([...strToU8('MThd'), ...[0, 0, 0, 6, 0, 1, 0, tracks.length, 0, 96], ...tracks.flat()]);
    const midis = (opened: OpenedChart): readonly number[] | null =>
      opened.kind === 'opened' ? opened.own!.notes.map(({ midi }) => midi) : null;
    const [lead, bass, low] = [track('Lead', 60, 62), track('Bass', 36, 38, 40), track('Low', 30, 31)];
    const clear = openChartFile(file(lead, bass, low));
    expect(midis(clear)).toEqual([36, 38, 40]);
    expect(clear).toMatchObject({ parts: { taken: 2 }, problems: [] });
    for (const several of [file(lead, low), file(bass, track('Bass solo', 40))]) {
      const asked = openChartFile(several);
      expect(asked).toMatchObject({ fault: 'which part', parts: { taken: null }, problems: [] });
      expect(asked.parts.names).toHaveLength(2);
    }
    expect(midis(openChartFile(file(lead, low), 2))).toEqual([30, 31]);
    expect(midis(openChartFile(file(lead, low), 1))).toEqual([60, 62]);
  });
  it('that is refused says where it is broken', () => {
    const opened = openChartFile(strToU8('<score-partwise><part>'));
    expect(opened).toMatchObject({ kind: 'refused', fault: 'no chart' });
    expect(opened.problems.length).toBeGreaterThan(0);
  });
});

describe('a paste', () => {
  it('of a whole file is opened', () => {
    for (const text of [score('One'), abc]) {
      expect(isFileText(text)).toBe(true);
      expect(openChartFile(text)).toMatchObject({ kind: 'opened' });
    }
    const page = '<?xml version="1.0"?><html/>';
    expect(isFileText(page)).toBe(true);
    expect(openChartFile(page)).toMatchObject({ kind: 'refused' });
  });
  it.each(['| C7 | F7 |', 'C7 / F7', '', 'C - Am - F - G', '<3', 'Title: X'])(
    'of %j stays as it is',
    (text) => {
      expect(isFileText(text)).toBe(false);
    },
  );
});

describe('plain text from elsewhere', () => {
  const played = (text: string): string =>
    readChart(text)
      .chart.bars.map(({ chords }) => chords.map(({ chord }) => chord?.symbol ?? 'N.C.').join(' '))
      .join(' | ');
  // Layouts in which changes are passed on (common practice, no source).
  test.each([
    ['lines', 'C7\nF7\nC7\n', 'C7 | F7 | C7'],
    ['tabs between bar lines', '|\tC7\t|\tF7\t|', 'C7 | F7'],
    [
      'lyrics under the chords',
      'Am7      D7\nwhere the slow river goes\nGmaj7\nall the way home\n',
      'Am7 D7 | Gmaj7',
    ],
    ['box-drawing bar lines', '│ C7 │ F7 │', 'C7 | F7'],
    ['numbered bars', '1 | C7 | F7 |\n3 | G7 | C |', 'C7 | F7 | G7 | C'],
  ])('%s', (_, text, expected) => expect(played(text)).toBe(expected));
});

describe('an opener', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  function setUp() {
    const { workers, startWorker } = handWorkers();
    const opener = new ChartOpener(
      (onanswer, onfailure) =>
        new TaskClient({
          task: 'read',
          patience: 0,
          startWorker,
          loadDoers: () => Promise.resolve(doers),
          onanswer,
          onfailure,
        }),
    );
    return { opener, workers };
  }

  it('reads a file in a thread of its own', async () => {
    const { opener, workers } = setUp();
    const opened = opener.open(strToU8(score('One')));
    expect(workers).toHaveLength(1);
    workers[0]!.reply();
    expect(await opened).toMatchObject({ kind: 'opened', text: expect.stringContaining('G7') as string });
  });

  it('asks nobody about what is refused unread', async () => {
    const { opener, workers } = setUp();
    const huge = new Uint8Array(mostOpenedBytes + 1);
    expect(await opener.open(huge)).toMatchObject({ fault: 'too large' });
    expect(workers).toHaveLength(0);
  });

  it('forgets a file when another is opened', async () => {
    const { opener, workers } = setUp();
    const first = opener.open(strToU8(score('One')));
    const second = opener.open(abc);
    expect(await first).toBeNull();
    expect(workers[0]!.isTerminated).toBe(true);
    workers[1]!.reply();
    expect(await second).toMatchObject({ kind: 'opened', text: expect.stringContaining('Dm7') as string });
  });

  it('gives up a file that takes too long, and opens the next one', async () => {
    const { opener, workers } = setUp();
    const first = opener.open(strToU8(score('One')));
    vi.advanceTimersByTime(mostReadingTime);
    expect(await first).toMatchObject({ kind: 'refused', fault: 'not read' });
    expect(workers[0]!.isTerminated).toBe(true);
    const second = opener.open(abc);
    workers[1]!.reply();
    expect(await second).toMatchObject({ kind: 'opened' });
  });
});
