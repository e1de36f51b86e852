import { describe, expect, it } from 'vitest';
import { bpm, printKey } from '../../../src/music';
import { readChart } from '../../../src/pipeline/1-chart';
import {
  makeTimeline,
  mostPlayedBars,
  unroll,
  type Slot,
  type Timeline,
} from '../../../src/pipeline/2-timeline';

const timelineOf = (text: string, choruses = 1): Timeline =>
  makeTimeline(readChart(text).chart, { choruses, tempo: null }).timeline!;
const slotText = ({ bar, beat, ticks, harmony }: Slot): string =>
  `${bar + 1}.${beat} ${harmony.chord!.symbol} ${ticks}`;
const slots = (text: string, choruses = 1): readonly string[] =>
  timelineOf(text, choruses).slots.map(slotText);

describe('slots', () => {
  it.each([
    ['C7 | F7', ['1.1 C7 480', '1.2 C7 480', '1.3 C7 480', '1.4 C7 480', '2.1 F7 480']],
    ['C7 F7', ['1.1 C7 480', '1.2 C7 480', '1.3 F7 480', '1.4 F7 480']],
    ['Feel: two-feel\nC7 | F7 G7', ['1.1 C7 960', '1.3 C7 960', '2.1 F7 960', '2.3 G7 960']],
    // A change inside the half note gets a note of its own.
    ['Feel: two-feel\nC7 F7 G7 A7', ['1.1 C7 480', '1.2 F7 480', '1.3 G7 480', '1.4 A7 480']],
    ['Feel: two-feel\nC7 / / F7', ['1.1 C7 960', '1.3 C7 480', '1.4 F7 480']],
    ['Feel: bossa\nC7 | F7', ['1.1 C7 720', '1.2.5 C7 240', '1.3 C7 720', '1.4.5 C7 240', '2.1 F7 720']],
    ['Feel: bossa\nC7 F7', ['1.1 C7 720', '1.2.5 C7 240', '1.3 F7 720', '1.4.5 F7 240']],
    ['Feel: bossa\nC7 F7 / /', ['1.1 C7 480', '1.2 F7 240', '1.2.5 F7 240', '1.3 F7 720']],
    ['Feel: waltz\nMeter: 3/4\nC7 F7', ['1.1 C7 480', '1.2 C7 480', '1.3 F7 480']],
    ['Meter: 12/8\nC7 F7', ['1.1 C7 720', '1.2 C7 720', '1.3 F7 720', '1.4 F7 720']],
    ['Meter: 5/4\nC7 F7', ['1.1 C7 480', '1.2 C7 480', '1.3 C7 480', '1.4 F7 480', '1.5 F7 480']],
    // A push: the change comes half a beat early.
    [
      'C7 / / /. F7. | F7',
      ['1.1 C7 480', '1.2 C7 480', '1.3 C7 480', '1.4 C7 240', '1.4.5 F7 240', '2.1 F7 480'],
    ],
    // The same symbol twice is no change and splits nothing.
    ['Feel: two-feel\nC7 C7 C7 C7', ['1.1 C7 960', '1.3 C7 960']],
    ['{pickup} C7 | F7', ['1.4 C7 480', '2.1 F7 480']],
    ['{pickup} C7 / . | F7', ['1.3.5 C7 240', '1.4 C7 480', '2.1 F7 480']],
    ['C7 | {3/4} F7 | {2/4} G7', ['1.1 C7 480', '1.2 C7 480', '1.3 C7 480', '1.4 C7 480', '2.1 F7 480']],
  ])('of %j', (text, expected) => {
    expect(slots(text).slice(0, expected.length)).toEqual(expected);
  });

  it('leave out N.C., which becomes silence after the slot before', () => {
    const { slots: all, ticks } = timelineOf('C7 / N.C. / | N.C. | F7 | N.C. / F7 /');
    expect(all.map(slotText)).toEqual([
      '1.1 C7 480',
      '1.2 C7 480',
      '3.1 F7 480',
      '3.2 F7 480',
      '3.3 F7 480',
      '3.4 F7 480',
      '4.3 F7 480',
      '4.4 F7 480',
    ]);
    expect(all.map(({ restAfter }) => restAfter)).toEqual([0, 2880, 0, 0, 0, 960, 0, 0]);
    expect(all[6]!.isChange).toBe(true);
    expect(ticks).toBe(4 * 1920);
  });

  it('count silence at the end of the form as going round', () => {
    const { slots: all } = timelineOf('N.C. / C7 / | F7 N.C.');
    expect(all.at(-1)!.restAfter).toBe(960 + 960);
  });

  it('know what comes next, past bar lines, repeats and the end of the form', () => {
    const { slots: all } = timelineOf('|: C7 | F7 :| G7 |');
    const ahead = all.filter(({ nextIsDownbeat }) => nextIsDownbeat);
    expect(
      ahead.map(({ harmony, nextHarmony, nextIsChange }) => [
        harmony.chord!.symbol,
        nextHarmony.chord!.symbol,
        nextIsChange,
      ]),
    ).toEqual([
      ['C7', 'F7', true],
      ['F7', 'C7', true],
      ['C7', 'F7', true],
      ['F7', 'G7', true],
      ['G7', 'C7', true],
    ]);
    expect(all.at(-1)!.nextHarmony).toBe(all[0]!.harmony);
  });

  it('look from the end to the first chorus, past introduction and pickup', () => {
    expect(timelineOf('[Intro] G7 |\n[A] C7 | F7').slots.at(-1)!.nextHarmony.chord!.symbol).toBe('C7');
    expect(timelineOf('{pickup} G7 | C7 | F7').slots.at(-1)!.nextHarmony.chord!.symbol).toBe('C7');
    expect(timelineOf('C7 | F7 | C7').slots.at(-1)!.nextIsChange).toBe(false);
  });

  it('say where the chord is new and how strong the moment is', () => {
    const { slots: all } = timelineOf('C7 | C7 F7 | F7');
    expect(all.map(({ isChange, strength }) => `${isChange ? '*' : ''}${strength}`)).toEqual([
      '*3',
      '1',
      '2',
      '1',
      '3',
      '1',
      '*2',
      '1',
      '3',
      '1',
      '2',
      '1',
    ]);
  });
});

describe('bars', () => {
  it('carry section, chorus, meter and place', () => {
    const { bars, choruses } = timelineOf('[Intro] G7 |\n[A] C7 | {3/4} F7 |\n[Tag] A7 |', 2);
    expect(choruses).toBe(2);
    expect(
      bars.map(({ index, chartBar, chorus, section, meter, tick, ticks }) => [
        index,
        chartBar,
        chorus,
        section,
        meter.beats,
        tick,
        ticks,
      ]),
    ).toEqual([
      [0, 0, 0, 'Intro', 4, 0, 1920],
      [1, 1, 0, 'A', 4, 1920, 1920],
      [2, 2, 0, null, 3, 3840, 1440],
      [3, 1, 1, 'A', 4, 5280, 1920],
      [4, 2, 1, null, 3, 7200, 1440],
      [5, 3, 1, 'Tag', 3, 8640, 1440],
    ]);
  });

  it('are in the key of the heading until it changes, also when a jump goes back', () => {
    const { bars, key } = timelineOf('Key: F\nC7 | {Key: Eb} Bb7 | F7 D.C. |');
    expect(printKey(key)).toBe('F major');
    expect(bars.map((bar) => bar.key.tonic)).toEqual(['F', 'Eb', 'Eb', 'F', 'Eb', 'Eb']);
  });

  it('infer the key when the heading names none', () => {
    expect(printKey(timelineOf('| Cm7 F7 | Bbmaj7 |').key)).toBe('Bb major');
    expect(printKey(timelineOf('| Am7b5 D7b9 | Gm6 |').key)).toBe('G minor');
  });

  it('give each chord its scale and the key around it', () => {
    const { bars } = timelineOf('Key: F\n| Fmaj7 | Fm7 Bb7 | Ebmaj7 | Gm7 C7 |');
    const chords = bars.flatMap((bar) => bar.chords);
    expect(chords.map(({ key }) => key.tonic)).toEqual(['F', 'Eb', 'Eb', 'Eb', 'F', 'F']);
    for (const { chord, scale } of chords) {
      for (const { note } of chord!.tones) expect(scale!.notes).toContain(note);
    }
  });

  it('say that a chord held over the bar line has not changed', () => {
    const { bars } = timelineOf('C7 | C7 | N.C. | C7 | C7/E');
    expect(bars.map(({ chords }) => chords[0]!.isChange)).toEqual([true, false, true, true, true]);
  });
});

describe('tempo and choruses', () => {
  const { chart } = readChart('Tempo: 90\nC7 | F7');
  it('take the wish first, then the heading, then 120', () => {
    expect(makeTimeline(chart, { choruses: 1, tempo: bpm(200) }).timeline!.tempo).toBe(200);
    expect(makeTimeline(chart, { choruses: 1, tempo: null }).timeline!.tempo).toBe(90);
    expect(timelineOf('C7').tempo).toBe(120);
  });

  it.each([0, -3, Number.NaN, 0.5, Number.NEGATIVE_INFINITY])('play once for %s choruses', (choruses) => {
    expect(makeTimeline(chart, { choruses, tempo: null }).timeline!.bars).toHaveLength(2);
  });

  it('count whole choruses', () => {
    expect(makeTimeline(chart, { choruses: 3.9, tempo: null }).timeline!.bars).toHaveLength(6);
  });
});

describe('nothing to play', () => {
  it('is told, without a timeline', () => {
    expect(makeTimeline(readChart('').chart, { choruses: 1, tempo: null })).toEqual({
      timeline: null,
      problems: [],
    });
    const rest = makeTimeline(readChart('N.C. | N.C.').chart, { choruses: 1, tempo: null });
    expect(rest.timeline).toBeNull();
    expect(rest.problems.map(({ code }) => code)).toEqual(['nothing-to-play']);
  });
});

describe('limits', () => {
  const { chart: endless } = readChart('|: C7 |: F7 |: G7 :| x99 A7 :| x99 Bb7 :| x99');

  it('keep the played form to its most bars, and say so', () => {
    const { bars, problems } = unroll(endless, 1);
    expect(bars).toHaveLength(mostPlayedBars);
    expect(problems.map(({ code }) => code)).toEqual(['form-cut']);
    expect(unroll(readChart('C7').chart, 1e9).bars.length).toBeLessThanOrEqual(mostPlayedBars);
  });

  it('hold for a chart of many bars', () => {
    const { chart } = readChart('C7 |'.repeat(10_000));
    const { timeline, problems } = makeTimeline(chart, { choruses: 2, tempo: null });
    expect(timeline!.bars).toHaveLength(mostPlayedBars);
    expect(problems.map(({ code }) => code)).toEqual(['form-cut']);
  });

  it('hold for numbers no reader gives', () => {
    const [bar] = readChart('C7').chart.bars;
    for (const repeatEnd of [0, -1, Number.NaN, Number.POSITIVE_INFINITY, 1e12]) {
      const bars = [{ ...bar!, repeatEnd, ending: [Number.POSITIVE_INFINITY, -4, 2.5] }];
      expect(unroll({ ...endless, bars }, 2).bars.length).toBeLessThanOrEqual(mostPlayedBars);
    }
  });
});

it('a chart in another key has the same slots', () => {
  // Keys do not touch time: only the harmony of a slot is another.
  const text = '|: C7 / F7 | Dm7 G7 :| C6';
  const times = (key: string): readonly number[] =>
    timelineOf(`Key: ${key}\n${text}`).slots.map(({ tick }) => tick);
  expect(times('Db')).toEqual(times('C'));
});
