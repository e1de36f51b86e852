// What cymbal, hi-hat and click play in a bar of each feel, read as a drummer would say it (common practice, no source).
import { describe, expect, it } from 'vitest';
import { bpm } from '../../src/music';
import type { Feel } from '../../src/pipeline/1-chart';
import { makeSchedule, type ClickPlace, type DrumEvent } from '../../src/playback';
import { musicOf, settingsWith } from './fixtures';

const exact = { isLoose: false, swing: 1, tempo: bpm(160) } as const;
const chartOf = (feel: Feel, meter: string): string =>
  `Key: F\nMeter: ${meter}\nFeel: ${feel}\n\n| F7 | Bb7 | F7 | C7 |]`;

/** Where a part sounds in one bar, in beats from 1, by sound: "ride 1 2 2.5 3". */
function played(feel: Feel, meter: string, part: DrumEvent['part'], bar = 0): string[] {
  const { events, bars } = makeSchedule(musicOf(chartOf(feel, meter)), settingsWith(exact));
  const { start, end } = bars[bar]!;
  const bySound = new Map<string, number[]>();
  for (const event of events) {
    if (event.part !== part || event.tick < start || event.tick >= end) continue;
    bySound.set(event.sound, [...(bySound.get(event.sound) ?? []), 1 + (event.tick - start) / 480]);
  }
  return [...bySound].map(([sound, beats]) => `${sound} ${beats.join(' ')}`).sort();
}

describe('the drums of each feel', () => {
  it.each<[Feel, string, string[], string[], string[]]>([
    ['swing', '4/4', ['ride 1 2 2.5 3 4 4.5'], ['pedal hat 2 4'], []],
    ['two-feel', '4/4', ['ride 1 2 2.5 3 4 4.5'], ['pedal hat 2 4'], ['kick 1 3']],
    ['waltz', '3/4', ['ride 1 2 2.5 3'], ['pedal hat 2'], []],
    ['ballad', '4/4', [], ['pedal hat 2 4'], ['brush stir 1 2 3 4', 'brush tap 2 4 4.5']],
    ['bossa', '4/4', ['ride 1 1.5 2 2.5 3 3.5 4 4.5'], ['pedal hat 2 4'], ['kick 1 3', 'side stick 1 2.5 4']],
    ['straight', '4/4', ['ride 1 1.5 2 2.5 3 3.5 4 4.5'], ['pedal hat 2 4'], []],
  ])('%s in %s, played exactly', (feel, meter, cymbal, hat, drums) => {
    expect(played(feel, meter, 'cymbal')).toEqual(cymbal);
    expect(played(feel, meter, 'hi-hat')).toEqual(hat);
    expect(played(feel, meter, 'drums')).toEqual(drums);
  });

  it('turn the side stick of a bossa round in every second bar', () => {
    const music = musicOf(chartOf('bossa', '4/4').replace('C7 |]', 'C7 | F7 | Bb7 | F7 | C7 |]'));
    const { events, bars } = makeSchedule(music, settingsWith({ swing: 1, seed: 5 }));
    const sticks = bars.slice(0, 7).map(({ start, end }) =>
      events
        .filter((event) => event.part === 'drums' && event.sound === 'side stick')
        .filter(({ tick }) => tick >= start && tick < end)
        .map(({ tick }) => 1 + Math.round((tick - start) / 240) / 2)
        .join(' '),
    );
    // Strokes on one belong to one side of the figure, strokes on two to the other.
    const sides = sticks.filter(Boolean).map((stick) => (stick.startsWith('1') ? 'three' : 'two'));
    expect(sides.length).toBeGreaterThan(4);
    sides.slice(1).forEach((side, i) => expect(side).not.toBe(sides[i]));
  });

  it('go through five as three and two, and mark every group of seven eighths', () => {
    expect(played('swing', '5/4', 'hi-hat')).toEqual(['pedal hat 2 5']);
    const [ride] = played('swing', '7/8', 'cymbal');
    for (const group of [1, 2, 3]) expect(ride?.split(' ')).toContain(String(group));
  });
});

describe('the click', () => {
  /** Beats of the first bar that are clicked, the high block in capitals. */
  const clicks = (meter: string, click: ClickPlace): string[] => {
    const music = musicOf(chartOf(meter === '3/4' ? 'waltz' : 'swing', meter));
    const { events, bars } = makeSchedule(music, settingsWith({ ...exact, click }));
    return events.flatMap((event) =>
      event.part === 'click' && event.tick < bars[0]!.end
        ? [`${event.sound === 'block high' ? 'X' : 'x'}${1 + event.tick / 480}`]
        : [],
    );
  };

  it.each([
    ['4/4', ['X2', 'X4'], ['X1', 'x2', 'x3', 'x4']],
    ['3/4', ['X1'], ['X1', 'x2', 'x3']],
    ['2/4', ['X2'], ['X1', 'x2']],
  ])('in %s falls on 2 and 4, or on every beat with the first one high', (meter, backBeats, beats) => {
    expect(clicks(meter, '2 and 4')).toEqual(backBeats);
    expect(clicks(meter, 'every beat')).toEqual(beats);
  });

  it('is on every beat exactly there, however loosely the band plays', () => {
    for (const seed of [1, 2, 3]) {
      const music = musicOf(chartOf('swing', '4/4'));
      const { events } = makeSchedule(music, settingsWith({ click: 'every beat', isLoose: true, seed }));
      const ticks = events.flatMap((event) => (event.part === 'click' ? [event.tick] : []));
      expect(ticks).toEqual(Array.from({ length: 16 }, (_, beat) => beat * 480));
    }
  });
});
