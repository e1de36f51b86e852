// "Each region at least so much of the stopped time": the shares are counted here anew, from the notes alone.
import { describe, expect, it } from 'vitest';
import {
  defaultHand,
  defaultInstrument,
  regionOf,
  type HandPosition,
  type Region,
} from '../../src/instrument';
import { bpm, soundingMidi, ticks } from '../../src/music';
import { walk, type Line, type WalkRequest } from '../../src/pipeline';
import { fingerLine } from '../../src/pipeline/given';
import { chartText, requestFor } from './request';

const regions: readonly Region[] = ['low', 'middle', 'neck block'];

function sharesOf({ notes }: Line): number[] {
  const stopped = notes.filter(({ placement }) => placement.finger !== '0');
  const sum = (some: typeof notes): number => some.reduce((all, note) => all + note.ticks, 0);
  return regions.map(
    (region) =>
      sum(stopped.filter(({ placement }) => regionOf(placement.position) === region)) / sum(stopped),
  );
}

const least = (line: Line): number => Math.min(...sharesOf(line));
const under = (name: string, changes: Partial<WalkRequest>) => walk(requestFor(chartText(name), changes));
const spreadOf = (spread: number): WalkRequest['limits'] => ({ barredPositions: [], spread });

describe('a line that gets around the neck', () => {
  it.each([
    // A blues that stays in the middle by itself, and a tune in F sharp, where few open strings help.
    ['wet-gravel-blues.txt', 0],
    ['wet-gravel-blues.txt', 1],
    ['high-fence.txt', 0],
    ['high-fence.txt', 1],
  ])('%s at variety %d has its share in each region, which it has not by itself', (name, temperature) => {
    const take = { seed: 3, temperature };
    expect(least(under(name, { take }).line!)).toBeLessThan(0.15);
    const { line } = under(name, { take, limits: spreadOf(0.15) });
    expect(least(line!)).toBeGreaterThanOrEqual(0.15);
  });

  it('is the line it was where nothing is asked, or where it gets around as it is', () => {
    const text = 'stepladder.txt';
    const take = { seed: 35, temperature: 1 };
    const free = under(text, { take }).line!;
    const midis = (line: Line | null) => line?.notes.map(({ midi, placement }) => [midi, placement.position]);
    expect(midis(under(text, { take, limits: spreadOf(0) }).line)).toEqual(midis(free));
    const own = least(free);
    expect(own).toBeGreaterThan(0);
    expect(midis(under(text, { take, limits: spreadOf(own) }).line)).toEqual(midis(free));
  });

  it('is named when a region that is barred leaves none', () => {
    const barred = [1, 2] as HandPosition[];
    const { line, impossible } = under('wet-gravel-blues.txt', {
      limits: { barredPositions: barred, spread: 0.15 },
    });
    expect(line).toBeNull();
    expect(impossible?.message).toBe(
      'No line that was found keeps to at least 15 % in each of the low, middle, neck block regions together with the other wishes. Ask for a share that is easier to keep.',
    );
  });

  it('holds for notes that are given, too', () => {
    // Up and down in B flat: fingered in one place by itself.
    const midis = [34, 36, 38, 39, 41, 43, 45, 46, 45, 43, 41, 39, 38, 36, 34, 41];
    const notes = [...midis, ...midis].map((midi, index) => ({
      midi: soundingMidi(midi),
      tick: ticks(480 * index),
      ticks: ticks(480),
    }));
    const fingered = (spread: number) =>
      fingerLine(notes, {
        ...{ instrument: defaultInstrument, hand: defaultHand, tempo: bpm(100), way: 'open' },
        limits: { barredPositions: [], spread },
      });
    expect(least(fingered(0).line!)).toBeLessThan(0.1);
    const { line } = fingered(0.1);
    expect(least(line!)).toBeGreaterThanOrEqual(0.1);
    expect(line!.notes.map(({ midi }) => Number(midi))).toEqual([...midis, ...midis]);
  });
});
