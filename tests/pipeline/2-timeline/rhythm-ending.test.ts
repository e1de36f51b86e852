// The last bar of the last chorus, and pedal points (common practice, no source).
import { describe, expect, it } from 'vitest';
import { readChart } from '../../../src/pipeline/1-chart';
import { makeTimeline, type Timeline, type TimelineWish } from '../../../src/pipeline/2-timeline';

const timelineOf = (text: string, changes: Partial<TimelineWish> = {}): Timeline =>
  makeTimeline(readChart(text).chart, { choruses: 1, tempo: null, ...changes }).timeline!;

const chordsOf = ({ bars }: Timeline): string =>
  bars.map(({ chords }) => chords.map(({ chord }) => chord?.symbol ?? 'N.C.').join(' ')).join(' | ');

describe('a final ending', () => {
  it.each([
    ['a tonic that opens the bar before holds', 'Key: F\n| Gm7 C7 | F7 D7 | Gm7 C7 |\n', 'Gm7 C7 | F7 | F7'],
    ['a tonic that opens the last bar holds', 'Key: F\n| C7 | F6 C7 |\n', 'C7 | F6'],
    ['the tonic last heard takes the last bar', 'Key: F\n| F6 | Bb6 | Gm7 | C7 |\n', 'F6 | Bb6 | Gm7 | F6'],
    ['without a tonic the last chord stays', 'Key: F\n| Bb6 | Gm7 C7 |\n', 'Bb6 | C7'],
    ['a tonic over another bass does not end', 'Key: F\n| F6 | C7 | F6/A C7 |\n', 'F6 | C7 | F6'],
    ['silence stays', 'Key: F\n| F6 | N.C. |\n', 'F6 | N.C.'],
  ])('%s', (_what, text, expected) => {
    expect(chordsOf(timelineOf(text, { ending: 'final' }))).toBe(expected);
  });

  it('is one slot for the last bar, of the root alone, that leads nowhere', () => {
    const { slots, bars } = timelineOf('Key: F\n| F7 | C7 | F7 D7 | Gm7 C7 |\n', {
      ending: 'final',
      choruses: 2,
      density: 1,
      seed: 9,
    });
    const last = slots.at(-1)!;
    expect(
      slots.filter(({ bar, articulation }) => bar === 7 && articulation !== 'anticipation'),
    ).toHaveLength(last.articulation === 'anticipation' ? 0 : 1);
    expect(last.tick + last.ticks).toBe(bars[7]!.tick + bars[7]!.ticks);
    expect(last).toMatchObject({
      confinedTo: 'root',
      nextIsChange: false,
      nextIsDownbeat: false,
      restAfter: 0,
    });
    expect(last.isSustained).toBe(true);
    expect(last.nextHarmony).toBe(last.harmony);
    expect(chordsOf(timelineOf('Key: F\n| F7 D7 | Gm7 C7 |\n', { choruses: 2, ending: 'final' }))).toBe(
      'F7 D7 | Gm7 C7 | F7 | F7',
    );
  });

  it('is only made when asked for', () => {
    const text = 'Key: F\n| F7 D7 | Gm7 C7 |\n';
    expect(timelineOf(text, { ending: 'round' })).toEqual(timelineOf(text));
    expect(timelineOf(text).slots).toHaveLength(8);
  });
});

describe('a tag', () => {
  const blues = 'Key: F\n| F7 | Bb7 | F7 | % |\n| Bb7 | % | F7 | D7 |\n| Gm7 | C7 | F7 D7 | Gm7 C7 |\n';

  it('plays the closing phrase of the last chorus three times and ends on the tonic', () => {
    const { bars, choruses } = timelineOf(blues, { ending: 'tag', choruses: 2 });
    const phrase = [8, 9, 10, 11];
    expect([bars.length, choruses]).toEqual([32, 2]);
    expect(bars.slice(20).map(({ chartBar }) => chartBar)).toEqual([...phrase, ...phrase, ...phrase]);
    expect(bars.slice(12).every(({ chorus }) => chorus === 1)).toBe(true);
    expect(
      chordsOf(timelineOf(blues, { ending: 'tag' }))
        .split(' | ')
        .slice(8),
    ).toEqual([...['Gm7', 'C7', 'F7 D7', 'Gm7 C7', 'Gm7', 'C7', 'F7 D7', 'Gm7 C7', 'Gm7', 'C7', 'F7', 'F7']]);
    expect(timelineOf(blues, { ending: 'tag' }).slots.at(-1)).toMatchObject({ confinedTo: 'root' });
  });

  it('takes no more than half of a short form', () => {
    const { bars } = timelineOf('Key: F\n| F6 | D7 | Gm7 | C7 |\n', { ending: 'tag' });
    expect(bars.map(({ chartBar }) => chartBar)).toEqual([0, 1, 2, 3, 2, 3, 2, 3]);
  });

  it('gives way to the ending that a chart has', () => {
    const text = 'Key: F\n[A]\n| F6 | Gm7 C7 |\n[Tag]\n| Am7 D7 | F6 |\n';
    expect(chordsOf(timelineOf(text, { ending: 'tag' }))).toBe(
      chordsOf(timelineOf(text, { ending: 'final' })),
    );
  });

  it('is cut with the form where the form is too long', () => {
    const { bars } = timelineOf(blues, { ending: 'tag', choruses: 200 });
    expect(bars).toHaveLength(1024);
  });
});

describe('a pedal point', () => {
  const pedals = (text: string): readonly boolean[] =>
    timelineOf(text)
      .slots.filter(({ beat }) => beat === 1)
      .map(({ isPedal }) => isPedal ?? false);

  it('stands where a bass asked for by a slash stays while the chords change', () => {
    expect(pedals('Key: C\n| Dm7/G | Fmaj7/G | G7 | C6 |\n')).toEqual([true, true, true, false]);
  });

  it('is neither one chord that goes on nor a root that comes again by itself', () => {
    expect(pedals('Key: C\n| C6/G | % | Am7 |\n')).toEqual([false, false, false]);
    expect(pedals('Key: C\n| C6 | Cm7 | F7 |\n')).toEqual([false, false, false]);
    expect(pedals('Key: C\n| Dm7/G | N.C. | G7 |\n')).toEqual([false, false]);
  });
});
