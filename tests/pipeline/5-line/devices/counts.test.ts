// Devices counted, beside how often people play them.
import { describe, expect, it } from 'vitest';
import { countDevices, devicesOf, type DeviceCount, type DeviceId } from '../../../../src/pipeline';
import { chartText, walked } from '../../request';
import { played, timelineOf } from './made';

const timeline = timelineOf('Key: C\n| C7 | F7 | C7 | F7 |');
const countsOf = (pitches: readonly number[]): readonly DeviceCount[] => {
  const notes = played(timeline, pitches);
  return countDevices([{ notes, devices: devicesOf(notes), bars: Math.ceil(pitches.length / 4) }]);
};
const of = (counts: readonly DeviceCount[], id: DeviceId): DeviceCount =>
  counts.find(({ device }) => device === id)!;

describe('devices of a line', () => {
  // C E G E | F A C D♭ | C G A E♭ | F: into the bars a semitone up, a semitone down, a step up.
  const counts = countsOf([36, 40, 43, 40, 41, 45, 48, 49, 48, 43, 45, 39, 41]);

  it('are counted as they are found', () => {
    expect(of(counts, 'semitone below').count).toBe(1);
    expect(of(counts, 'semitone above').count).toBe(1);
    expect(of(counts, 'step below').count).toBe(1);
    expect(of(counts, 'step above').count).toBe(0);
    expect(of(counts, 'enclosure above first').count).toBe(1);
  });

  it('are told as the share that people’s figure is a share of', () => {
    const [overBarLine, beforeRoot] = of(counts, 'semitone below').compared;
    expect(overBarLine).toMatchObject({ share: 0.243, of: 'bar line', source: 'rwc' });
    expect(overBarLine!.own).toBeCloseTo(1 / 3, 9);
    expect(beforeRoot!.own).toBeCloseTo(1 / 3, 9);
    expect(of(counts, 'octave').compared[0]!.own).toBe(0);
  });

  it('count chains and runs once for as long as they go on', () => {
    // C C♯ D D♯ | E: a chain of four; then F F♯ back F: chains of one.
    const chains = countsOf([36, 37, 38, 39, 40, 36, 37, 36]);
    expect(of(chains, 'triple chromatic below').compared[0]!.own).toBeCloseTo(1 / 2, 9);
    expect(of(chains, 'double chromatic below').compared[0]!.own).toBe(0);
    expect(of(countsOf([36, 37, 38, 43]), 'double chromatic above').compared[0]!.own).toBe(1);
    const runs = of(countsOf([36, 38, 40, 41, 43, 41, 40, 38, 43, 36, 38, 43]), 'scale run');
    expect(runs.compared[0]!.own).toBeCloseTo(2 / 3, 9);
  });

  it('are nothing to compare where there is nothing to count', () => {
    const empty = countDevices([]);
    expect(empty.every(({ count }) => count === 0)).toBe(true);
    expect(empty.flatMap(({ compared }) => compared).every(({ own }) => own === null)).toBe(true);
  });

  it('add up over lines', () => {
    const lines = [1, 2].map((seed) => {
      const { line, timeline: form } = walked(chartText('back-stairs-blues.txt'), {
        take: { seed, temperature: 1 },
      });
      return { notes: line.notes, devices: line.devices, bars: form.bars.length };
    });
    const [one, two, both] = [countDevices([lines[0]!]), countDevices([lines[1]!]), countDevices(lines)];
    both.forEach(({ device, count }) => expect(count).toBe(of(one, device).count + of(two, device).count));
  });
});
