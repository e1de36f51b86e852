// What a beat in a region costs more: it steers the line, exactly, and is no part of its cost.
import { describe, expect, it } from 'vitest';
import { regionOf, type Region } from '../../src/instrument';
import { ticksPerQuarter, barNumber } from '../../src/music';
import { priceOf, type Line, type RegionPrice } from '../../src/pipeline';
import { chartText, requestFor, walked, walkKept } from './request';

const blues = chartText('wet-gravel-blues.txt');
const price = (
  perBeat: number,
  region: Region = 'middle',
  side: RegionPrice['side'] = 'inside',
): RegionPrice => ({
  region,
  side,
  perBeat,
});
const resultUnder = (...prices: RegionPrice[]) =>
  walked(blues, {
    choruses: 2,
    limits: { barredPositions: [], prices },
    take: { seed: 1, temperature: 0, mayRepeat: true },
  });
const under = (...prices: RegionPrice[]): Line => resultUnder(...prices).line;
const beatsIn = (line: Line, region: Region): number =>
  line.report.byRegion.find((row) => row.region === region)!.beats;
const borne = (line: Line, ...prices: RegionPrice[]): number =>
  line.notes.reduce((sum, { placement, ticks }) => sum + priceOf(placement, ticks, prices), 0);

describe('a price on a region', () => {
  it('leaves the line alone at nought', () => {
    expect(under(price(0))).toEqual(under());
  });

  it('tells how far the line is from the least with the price on it, which no line of another price is below', () => {
    const prices = [0, 100, 300, 600, 2000].map((perBeat) => price(perBeat));
    const results = prices.map((one) => resultUnder(one));
    prices.forEach((one, own) => {
      const totals = results.map(({ line }) => line.cost + borne(line, one));
      const over = results[own]!.overLeast!;
      expect(over).toBeGreaterThanOrEqual(0);
      expect(totals[own]! - over).toBeLessThanOrEqual(Math.min(...totals));
      // What is made otherwise costs little beside the line.
      expect(over).toBeLessThan(Math.abs(totals[own]!) / 10);
    });
  });

  it('takes beats out of the region the more the higher it is, until none is left that need not be', () => {
    const beats = [0, 150, 300, 600, 1200, 2400, 60_000].map((perBeat) =>
      beatsIn(under(price(perBeat)), 'middle'),
    );
    expect(beats).toEqual([...beats].sort((a, b) => b - a));
    expect(beats[0]).toBeGreaterThan(40);
    expect(beats.at(-1)).toBe(0);
  });

  it('laid on everything else draws the hand into the region', () => {
    const drawn = under(price(2400, 'neck block', 'outside'));
    expect(beatsIn(drawn, 'neck block')).toBeGreaterThan(3 * beatsIn(under(), 'neck block') + 20);
  });

  it('is no part of what the line costs', () => {
    const line = under(price(600));
    const items = line.notes.flatMap((note) => note.items).reduce((sum, item) => sum + item.amount, 0);
    expect(line.cost).toBe(items);
    expect(line.cost).toBeGreaterThan(under().cost);
  });

  it('never takes more than price times beats', () => {
    const one = price(333.3);
    const line = under(one);
    expect(borne(line, one)).toBeLessThanOrEqual(one.perBeat * beatsIn(line, 'middle'));
    expect(borne(line, one)).toBeGreaterThan((one.perBeat - 1) * beatsIn(line, 'middle') - line.notes.length);
  });
});

describe('a longest stay in any one region', () => {
  const longest = (line: Line): number => {
    let [beats, most]: [number, number] = [0, 0];
    let region: Region | null = null;
    for (const { placement, ticks } of line.notes) {
      const here = placement.finger === '0' ? null : regionOf(placement.position);
      beats = here === null ? 0 : (here === region ? beats : 0) + ticks / ticksPerQuarter;
      region = here;
      most = Math.max(most, beats);
    }
    return most;
  };

  it('holds wherever the hand is, and lets a stay come up to it', () => {
    const text = chartText('five-steps-down.txt');
    const limits = (beats: number): object => ({
      limits: { barredPositions: [], stay: { region: 'any', beats } },
    });
    expect(longest(walked(text).line)).toBeGreaterThan(3);
    const held = walked(text, limits(3)).line;
    expect(longest(held)).toBe(3);
    expect(longest(held)).toBe(held.report.longestStay!.beats);
  });

  it('is named where it cannot be', () => {
    const text = 'Key: F#\n| F# | F# |';
    const limits = { barredPositions: [], stay: { region: 'any' as const, beats: 1 }, highestStop: 2 };
    const pins = [1, 2, 3].map((beat) => ({ bar: barNumber(1), beat, role: 'stopped' as const }));
    const { impossible } = walkKept(requestFor(text, { limits, pins: pins }));
    expect(impossible!.conflict.map(({ words }) => words)).toContain(
      'no more than 1 beats in a row in any one region',
    );
  });
});
