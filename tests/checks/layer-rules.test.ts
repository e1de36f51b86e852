// The checker of layers checked: a line that keeps a layer passes, and each rule speaks when it is broken.
import { describe, expect, it } from 'vitest';
import { midiOf, noteName } from '../../src/music';
import { layers } from '../../src/pipeline';
import { played, timelineOf } from '../pipeline/5-line/devices/made';
import { chartText, walked } from '../pipeline/request';
import { layerFaults } from './layer-rules';

const midi = (text: string): number =>
  midiOf({ name: noteName(text.slice(0, -1)), octave: Number(text.at(-1)) });
const chart = 'Key: C\n| Dm7 | G7 | Cmaj7 A7 |';
const faultsOf = (layer: string, line: string): string[] =>
  layerFaults(layer, played(timelineOf(chart), line.split(' ').map(midi))).map(
    ({ rule, bar, beat }) => `${rule} ${bar}.${beat}`,
  );

const good: Readonly<Record<string, string>> = {
  ground: 'D2 D3 D2 D2 G1 G2 G1 G1 C2 C3 A1 A2',
  pillars: 'D2 A1 A1 D2 G1 G2 D2 G1 C2 G1 A1 E2',
  frame: 'D2 F2 A2 F2 G1 B1 D2 F2 C2 E2 A1 C#2',
  stairs: 'D2 E2 F2 E2 G1 A1 B1 A1 C2 D2 A1 Bb1',
  below: 'D2 F2 A2 F#2 G2 B1 F2 B1 C2 G#1 A1 C#2',
  above: 'D2 F2 A2 G#2 G2 B1 F2 C#2 C2 Bb1 A1 Eb2',
  step: 'D2 F2 A2 F2 G2 B1 F2 D2 C2 G1 A1 E2',
  fall: 'D2 F2 A2 D2 G2 B2 F2 G2 C2 E2 A1 A1',
  anywhere: 'D2 F2 A2 D2 G2 B1 F2 B1 C2 G1 A1 C#2',
  pair: 'D2 A2 F2 F#2 G2 F2 D2 C#2 C2 G#1 A1 C#2',
  around: 'D2 C2 A2 F#2 G2 F2 C#2 B1 C2 Bb1 A1 Eb2',
  run: 'D2 A2 F2 A2 G2 F2 E2 D2 C2 G2 A2 E2',
  elsewhere: 'D2 A2 E2 C#2 B1 D2 F2 B1 C2 G1 C#2 D2',
  skips: '',
  own: 'D2 F#1 G#1 C1 F1 B2 E1 A1 D1 G1 C1 F1',
};

describe('the checker of layers', () => {
  it.each(Object.entries(good).filter(([, line]) => line !== ''))('passes a line of %s', (layer, line) => {
    expect(faultsOf(layer, line)).toEqual([]);
  });

  it('knows every layer', () => {
    expect(Object.keys(good)).toEqual(layers.map(({ id }) => id));
  });

  it.each([
    ['ground', good.ground!.replace('D3', 'A2'), ['notes 1.2']],
    ['ground', good.ground!.replace('C2 C3', 'E2 C3'), ['notes 3.1', 'opens 3.1']],
    ['pillars', 'D2 A1 D2 D2 G1 G2 D2 G1 C2 G1 A1 E2', ['inner 1.3']],
    ['frame', 'D2 F2 D3 F2 G1 D2 D2 D2 C2 E2 A1 C#2', ['roots 1.3', 'speaks 2.1']],
    ['frame', good.frame!.replace('D2 F2 A2 F2', 'D2 F2 G2 F2'), ['notes 1.3']],
    ['stairs', good.stairs!.replace('D2 E2 F2 E2', 'D2 F2 F2 E2'), ['steps 1.2', 'steps 1.3']],
    ['below', good.below!.replace('F#2', 'C2'), ['into 1.4']],
    ['below', good.below!.replace('C#2', 'G2'), ['into 3.4']],
    ['above', good.above!.replace('G#2', 'F#2'), ['into 1.4', 'notes 1.4']],
    ['step', good.step!.replace('A2 F2 G2', 'A2 F#2 G2'), ['into 1.4', 'notes 1.4']],
    ['fall', good.fall!.replace('A2 D2 G2', 'A2 C2 G2'), ['into 1.4']],
    ['anywhere', 'D2 F2 A2 F#2 G2 B1 F2 B1 C2 G1 A1 C#2', ['differ 2.4']],
    ['anywhere', 'D2 F2 A2 F2 G2 B1 F2 D2 C2 G#1 A1 E2', ['differ 2.4']],
    ['pair', good.pair!.replace('F2 F#2 G2', 'C2 F#2 G2'), ['into 1.4']],
    ['around', good.around!.replace('C#2 B1 C2', 'D3 B1 C2'), ['into 2.4']],
    ['run', good.run!.replace('F2 E2 D2 C2', 'F2 E2 B1 C2'), ['into 2.4']],
    ['elsewhere', good.elsewhere!.replace('C#2 B1', 'C#2 G1'), ['opens 2.1']],
  ])('%s: %s', (layer, line, expected) => {
    expect(faultsOf(layer, line).toSorted()).toEqual(expected);
  });

  it('asks for no device where there is no room, and for none across a rest', () => {
    const beats = timelineOf('Key: C\n| Dm7 G7 Cmaj7 A7 |');
    expect(layerFaults('below', played(beats, ['D2', 'G2', 'C2', 'A1'].map(midi)))).toEqual([]);
    const rest = timelineOf('Key: C\n| C7 | N.C. | F7 |');
    const notes = played(rest, ['C2', 'E2', 'G2', 'Bb2', 'F2', 'A2', 'C3', 'B1'].map(midi));
    expect(layerFaults('below', notes)).toEqual([]);
  });

  it('hears whether there are figures at all', () => {
    const text = chartText('back-stairs-blues.txt');
    const take = { seed: 1, temperature: 1 };
    expect(layerFaults('skips', walked(text, { take, density: 0.3 }).line.notes)).toEqual([]);
    expect(layerFaults('skips', walked(text, { take, density: 0 }).line.notes)).toHaveLength(1);
  });
});
