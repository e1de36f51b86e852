// What the critic counts: for each count a line of notes that has one, and a line that has none.
import { describe, expect, it } from 'vitest';
import table from '../../../../shared/grammar/critic.json' with { type: 'json' };
import { midiOf, type NoteName } from '../../../../src/music';
import { readChart } from '../../../../src/pipeline/1-chart';
import { makeTimeline, type Slot } from '../../../../src/pipeline/2-timeline';
import { countNames, countsOf, criticScore, type CountName } from '../../../../src/pipeline/5-line/critic';

const slotsOf = (chart: string): readonly Slot[] =>
  makeTimeline(readChart(chart).chart, { choruses: 1, tempo: null }).timeline!.slots;

const parsePitch = (text: string): number =>
  midiOf({ name: text.slice(0, -1) as NoteName, octave: Number(text.at(-1)) });

/** A chart and notes over it; a line shorter than its chart is the beginning. */
type Example = readonly [chart: string, notes: string];

function lineOf([chart, notes]: Example): readonly [readonly Slot[], number[]] {
  const midis = notes
    .split(' ')
    .filter((one) => one !== '|')
    .map(parsePitch);
  return [slotsOf(chart).slice(0, midis.length), midis];
}

const cases: Readonly<Record<CountName, readonly [one: Example, none: Example]>> = {
  'left by leap': [
    ['C7 | C7', 'C2 E2 F2 C2 | E2'],
    ['C7 | C7', 'C2 E2 F2 G2 | E2'],
  ],
  'outside left by leap': [
    ['C7 | C7', 'C2 E2 F#2 C2 | E2'],
    ['C7 | C7', 'C2 E2 F#2 G2 | E2'],
  ],
  'strong outside': [
    ['C7 | C7', 'C2 E2 G2 E2 | F2'],
    ['C7 | C7', 'C2 E2 G2 F2 | E2'],
  ],
  'strong outside unresolved': [
    ['C7 | C7', 'C2 E2 G2 E2 | F2 Bb2'],
    ['C7 | C7', 'C2 E2 G2 E2 | F2 G2'],
  ],
  'chord begun elsewhere': [
    ['C7 | F7', 'C2 E2 G2 D2 | Eb2'],
    ['C7 | F7', 'C2 E2 G2 E2 | F2'],
  ],
  'denied on a strong beat': [
    ['C7 | C7', 'C2 E2 G2 E2 | F2 E2'],
    // On beat three in passing.
    ['C7 | C7', 'C2 E2 F2 G2 | E2'],
  ],
  'chord unspoken': [
    ['C7 | F7', 'E2 D2 Bb1 D2 | F2 A2'],
    ['C7 | F7', 'E2 D2 G2 D2 | F2 A2'],
  ],
  repeat: [
    ['C7 | C7', 'C2 E2 E2 G2'],
    ['C7 | C7', 'C2 E2 C2 G2'],
  ],
  seesaw: [
    ['C7 | C7', 'C2 E2 C2 E2'],
    ['C7 | C7', 'C2 E2 C2 G2'],
  ],
  'three of five': [
    ['C7 | C7', 'C2 E2 C2 G2 | C2'],
    ['C7 | C7', 'C2 E2 C2 G2 | E2'],
  ],
  'third time': [
    ['C7 | C7', 'C2 E2 E2 E2'],
    ['C7 | C7', 'C2 E2 E2 G2'],
  ],
  zigzag: [
    ['C7 | C7', 'C2 F2 D2 A2 | F2'],
    ['C7 | C7', 'C2 E2 C2 G2 | E2'],
  ],
  'weak approach': [
    ['C7 | F7', 'C2 E2 G2 D2 | F2'],
    ['C7 | F7', 'C2 E2 G2 G2 | F2'],
  ],
  'downbeat anticipated': [
    ['C7 | F7', 'C2 E2 G2 F2 | F2'],
    ['C7 | F7', 'C2 E2 E2 G2 | F2'],
  ],
  'leap not turned back': [
    ['C7 | C7', 'C2 G2 Bb2'],
    ['C7 | C7', 'C2 G2 E2'],
  ],
  'wide double leap': [
    ['C7 | C7', 'C2 G2 E3'],
    ['C7 | C7', 'C2 G2 C3'],
  ],
  'bar again': [
    ['C7 | C7', 'C2 E2 G2 D2 | C3 E3 G3 D3'],
    ['C7 | C7', 'C2 E2 G2 D2 | C2 D2 E2 G2'],
  ],
  'bar of the last four': [
    ['C7 | F7 | C7', 'C2 E2 G2 E2 | F2 A2 C3 D2 | C2 E2 G2 E2'],
    // The bar before counts elsewhere.
    ['C7 | C7', 'C2 E2 G2 E2 | C2 E2 G2 E2'],
  ],
  'same downbeat three times': [
    ['C7 | C7 | C7', 'C2 E2 G2 D2 | C2 D2 E2 D2 | C2 G2 E2 D2'],
    ['C7 | C7 | C7', 'C2 E2 G2 D2 | C2 D2 E2 D2 | E2 G2 E2 D2'],
  ],
  'root restated': [
    ['C7 | C7', 'C2 E2 G2 D2 | C2 D2 E2 D2'],
    ['C7 | C7', 'C2 E2 G2 D2 | E2 D2 E2 D2'],
  ],
  'shape three times': [
    ['C7 | F7 | G7', 'C2 E2 G2 D2 | F2 A2 C3 G2 | G2 B2 D3 A2'],
    ['C7 | F7 | G7', 'C2 E2 G2 D2 | F2 A2 C3 G2 | G2 B2 D3 G#2'],
  ],
  'highest note again': [
    ['C7 | C7 | C7 | C7', 'C2 E2 G2 E2 | C2 D2 E2 D2 | C2 E2 G2 D2 | C2 D2 E2 D2'],
    ['C7 | C7 | C7 | C7', 'C2 E2 G2 E2 | C2 D2 E2 D2 | C2 E2 A2 D2 | C2 D2 E2 D2'],
  ],
  'section not entered': [
    ['[A]\nC7\n[B]\nF7', 'C2 E2 G2 D2 | F2'],
    ['[A]\nC7\n[B]\nF7', 'C2 E2 G2 E2 | F2'],
  ],
  'octave there and back': [
    ['C7 | C7', 'C2 E2 E3 E2'],
    ['C7 | C7', 'C2 E2 E3 D3'],
  ],
};

describe('the critic', () => {
  it('has a row of the table for each count, and no count is without a test', () => {
    const names = table.rows.map(({ count }) => count).sort();
    expect([...countNames].sort()).toEqual(names);
    expect(Object.keys(cases).sort()).toEqual(names);
  });

  it.each(countNames)('%s: counted once where it is met once, and not where it is not', (name) => {
    const [one, none] = cases[name];
    expect(countsOf(...lineOf(one)).get(name)).toBe(1);
    expect(countsOf(...lineOf(none)).get(name)).toBe(0);
  });

  it('adds up what it counts by the weights of the table', () => {
    for (const [one, none] of Object.values(cases)) {
      for (const example of [one, none]) {
        const counts = countsOf(...lineOf(example));
        const sum = table.rows.reduce(
          (total, { count, weight }) => total + weight * counts.get(count as CountName)!,
          0,
        );
        expect(criticScore(...lineOf(example))).toBeCloseTo(sum, 9);
      }
    }
  });
});
