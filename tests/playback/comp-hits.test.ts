// Where chords are struck by a plan that is written out, how long each stays and which chord it is, to the tick.
import { describe, expect, it } from 'vitest';
import { pitchClass, ticks, type SoundingMidi } from '../../src/music';
import type { TimelineBar } from '../../src/pipeline/2-timeline';
import type { BarPlan } from '../../src/playback/band/bar-plan';
import { compHits, type CompWish } from '../../src/playback/comping';
import { voicing } from '../../src/playback/voicing';
import { timelineOf } from './fixtures';

type Stroke = [beat: number, beats: number, velocity: number];

const four = 'Key: C\nMeter: 4/4\n\n| C7 | F7 | Dm7 G7 | N.C. |]';
const barsOf = (chart: string): readonly TimelineBar[] => timelineOf(chart).bars;

/** A plan that plays these strokes in every bar; nothing else of it is asked for. */
const planOf = (strokes: Stroke[], beats: 3 | 4 = 4, more: Partial<BarPlan> = {}): BarPlan =>
  ({ comping: { strokes }, band: { beats }, tag: null, ending: null, ...more }) as unknown as BarPlan;

const classes = (midis: readonly SoundingMidi[]): string =>
  String(midis.map(pitchClass).sort((a, b) => a - b));

/** "tick+ticks chord velocity" of every hit, bar by bar. */
function hitsOf(
  bars: readonly TimelineBar[],
  plans: BarPlan | readonly BarPlan[],
  wish: Partial<CompWish> = {},
): string[][] {
  const named = new Map(
    bars.flatMap(({ chords }) =>
      chords.flatMap(({ chord }) => (chord ? [[classes(voicing(chord, [])), chord.symbol] as const] : [])),
    ),
  );
  const plan = 'length' in plans ? plans : bars.map(() => plans);
  const whole = { from: 0, to: bars.length - 1, goesRound: false, topOfBass: () => -Infinity, ...wish };
  return compHits(bars, plan, whole).map((hits) =>
    hits.map(
      ({ tick, ticks, midis, velocity }) => `${tick}+${ticks} ${named.get(classes(midis))} ${velocity}`,
    ),
  );
}

describe('chords by a plan', () => {
  it('are struck on its beats; one that no stroke falls on is struck as it comes, and N.C. is silence', () => {
    expect(hitsOf(barsOf(four), planOf([[1, 1, 0.6]]))).toEqual([
      ['0+480 C7 0.6'],
      ['1920+480 F7 0.6'],
      // A beat and a fifth of its two.
      ['3840+480 Dm7 0.6', '4800+576 G7 0.5'],
      [],
    ]);
  });

  it('that are struck as they come stay for seven tenths of a short time', () => {
    const bars = barsOf('Key: C\nMeter: 4/4\n\n| C7 F7 Dm7 G7 |]');
    expect(hitsOf(bars, planOf([]))).toEqual([
      ['0+336 C7 0.5', '480+336 F7 0.5', '960+336 Dm7 0.5', '1440+336 G7 0.5'],
    ]);
  });

  it('play what comes on the off-beat before it, and not silence', () => {
    expect(hitsOf(barsOf(four), planOf([[4.5, 1, 0.4]]))).toEqual([
      // The first chord is to be heard, too.
      ['0+576 C7 0.5', '1680+480 F7 0.4'],
      ['3600+480 Dm7 0.4'],
      // Late, but in its time: that is heard.
      ['5520+240 G7 0.4'],
      [],
    ]);
    expect(hitsOf(barsOf(four), planOf([[2.5, 1, 0.4]]))[2]).toEqual(['3840+576 Dm7 0.5', '4560+480 G7 0.4']);
  });

  it('are struck once where a chord goes on', () => {
    const bars = barsOf('Key: C\nMeter: 4/4\n\n| C7 | C7 | F7 |]');
    expect(hitsOf(bars, planOf([]))).toEqual([['0+576 C7 0.5'], [], ['3840+576 F7 0.5']]);
  });

  it('are heard anew in the first bar that is played, though it only goes on', () => {
    const bars = barsOf('Key: C\nMeter: 4/4\n\n| C7 | C7 | F7 |]');
    expect(hitsOf(bars, planOf([]), { from: 1 })).toEqual([
      ['0+576 C7 0.5'],
      ['1920+576 C7 0.5'],
      ['3840+576 F7 0.5'],
    ]);
  });

  it('end where the next is struck, where their harmony does, and with the form', () => {
    const plan = planOf([[1, 40, 0.6]]);
    expect(hitsOf(barsOf(four), plan)).toEqual([
      ['0+1920 C7 0.6'],
      ['1920+1920 F7 0.6'],
      ['3840+960 Dm7 0.6', '4800+576 G7 0.5'],
      [],
    ]);
    expect(hitsOf(barsOf('Key: C\nMeter: 4/4\n\n| C7 N.C. | F7 |]'), plan)).toEqual([
      ['0+960 C7 0.6'],
      ['1920+1920 F7 0.6'],
    ]);
  });

  it('of one moment are a tick at least', () => {
    const twice = planOf([
      [1, 1, 0.6],
      [1, 1, 0.3],
    ]);
    expect(hitsOf(barsOf('Key: C\nMeter: 4/4\n\n| C7 |]'), twice)).toEqual([['0+1 C7 0.6', '0+480 C7 0.3']]);
  });

  it('anticipate the first bar of what goes round at its end, and end with it', () => {
    const plan = planOf([[4.5, 1, 0.4]]);
    const bars = barsOf('Key: C\nMeter: 4/4\n\n| C7 | F7 | Dm7 |]');
    expect(hitsOf(bars, plan)[2]).toEqual(['5520+240 Dm7 0.4']);
    expect(hitsOf(bars, plan, { goesRound: true })[2]).toEqual(['5520+240 C7 0.4']);
    const loop = hitsOf(bars, plan, { from: 1, to: 1, goesRound: true });
    expect(loop[1]).toEqual(['3600+240 F7 0.4']);
    // What lies behind the loop is there for when it is left.
    expect(loop[2]).toEqual(['5520+240 Dm7 0.4']);
    // Off the loop's last bar a chord comes as written.
    expect(loop[0]).toEqual(['0+576 C7 0.5', '1680+480 F7 0.4']);
    expect(hitsOf(bars, plan, { from: 0, to: 1 })[1]).toEqual(['3600+480 Dm7 0.4']);
  });

  it('leave out what a bar of three lacks, and begin again in a longer one', () => {
    const strokes: Stroke[] = [
      [1, 1, 0.6],
      [4, 1, 0.3],
    ];
    const waltz = barsOf('Key: C\nMeter: 3/4\n\n| C7 | F7 |]');
    expect(hitsOf(waltz, planOf(strokes))).toEqual([['0+480 C7 0.6'], ['1440+480 F7 0.6']]);
    // Three eighths to a group.
    const twelve = barsOf('Key: C\nMeter: 12/8\n\n| C7 |]');
    expect(hitsOf(twelve, planOf([[1, 1, 0.6]], 3))).toEqual([
      ['0+240 C7 0.6', '720+240 C7 0.6', '1440+240 C7 0.6', '2160+240 C7 0.6'],
    ]);
    expect(hitsOf(twelve, planOf([], 3))).toEqual([['0+288 C7 0.5']]);
  });

  it('of a pickup are the end of the bar, whose off-beats stay off-beats', () => {
    const [bar, next] = barsOf('Key: C\nMeter: 4/4\n\n| C7 | F7 |]') as [TimelineBar, TimelineBar];
    // An eighth short.
    const earlier = <One extends { readonly tick: number }>(one: One): One => ({
      ...one,
      tick: one.tick - 240,
    });
    const pickup = [
      { ...bar, ticks: ticks(1680) },
      { ...earlier(next), chords: next.chords.map(earlier) },
    ];
    const plan = planOf([
      [1, 1, 0.6],
      [2.5, 1, 0.5],
      [4.5, 1, 0.4],
    ]);
    // Beat 1 is not there; the others come 240 ticks earlier.
    expect(hitsOf(pickup, plan)[0]).toEqual(['480+480 C7 0.5', '1440+240 F7 0.4']);
  });

  it('of the last bar are one that is held', () => {
    const ending = { choke: 1 } as unknown as NonNullable<BarPlan['ending']>;
    expect(hitsOf(barsOf('Key: C\nMeter: 4/4\n\n| C7 |]'), planOf([[2, 1, 0.4]], 4, { ending }))).toEqual([
      ['0+1440 C7 0.62'],
    ]);
  });

  it('of a tag take the place of what the cell has from there on', () => {
    const tag = {
      chords: [
        [-9, 1, 0.9],
        [-2, 1, 0.7],
        [-0.5, 0.5, 0.8],
      ],
    } as unknown as NonNullable<BarPlan['tag']>;
    const strokes: Stroke[] = [
      [1, 1, 0.6],
      [3, 1, 0.3],
      [4, 1, 0.2],
    ];
    expect(hitsOf(barsOf('Key: C\nMeter: 4/4\n\n| C7 |]'), planOf(strokes, 4, { tag }))).toEqual([
      ['0+480 C7 0.6', '960+480 C7 0.7', '1680+240 C7 0.8'],
    ]);
  });

  it('lead their voices from one to the next and keep off what the bass has meanwhile', () => {
    const bars = barsOf('Key: C\nMeter: 4/4\n\n| C7 | F7 |]');
    const asked: [number, number][] = [];
    const topOfBass = (from: number, to: number): number => {
      asked.push([from, to]);
      return from === 0 ? 50 : -Infinity;
    };
    const [first, second] = compHits(
      bars,
      bars.map(() => planOf([[2, 1, 0.6]])),
      {
        from: 0,
        to: 1,
        goesRound: false,
        topOfBass,
      },
    ).map(([hit]) => hit!.midis);
    const [c, f] = bars.map(({ chords }) => chords[0]!.chord!);
    expect(asked).toEqual([
      [480, 960],
      [2400, 2880],
    ]);
    expect(first).toEqual(voicing(c!, [], -Infinity));
    expect(second).toEqual(voicing(f!, first!, -Infinity));
    const high = compHits(
      bars,
      bars.map(() => planOf([[1, 1, 0.6]])),
      {
        from: 0,
        to: 1,
        goesRound: false,
        topOfBass,
      },
    );
    expect(high[0]![0]!.midis).toEqual(voicing(c!, [], 50));
  });
});
