// What the rules see of a step between two notes of a chart.
import { describe, expect, it } from 'vitest';
import { midiOf, type NoteName } from '../../../../src/music';
import { readChart } from '../../../../src/pipeline/1-chart';
import { makeTimeline, type Slot } from '../../../../src/pipeline/2-timeline';
import { stepBetween, type Step } from '../../../../src/pipeline/5-line/grammar';

const slotsOf = (chart: string): readonly Slot[] =>
  makeTimeline(readChart(chart).chart, { choruses: 1, tempo: null }).timeline!.slots;

const pitch = (text: string) => midiOf({ name: text.slice(0, -1) as NoteName, octave: Number(text.at(-1)) });

/** The step from the note at one slot of a chart, counting from 0, to the note at the next one. */
function stepIn(chart: string, at: number, notes: string): Step {
  const slots = slotsOf(chart);
  const [from, to] = notes.split(' ').map(pitch);
  return stepBetween(slots[at]!, slots[(at + 1) % slots.length]!, from!, to!);
}

type Row = readonly [what: string, chart: string, at: number, notes: string, seen: Partial<Step>];

describe('stepBetween', () => {
  it.each<Row>([
    ['from a downbeat on', 'C7 | F7', 0, 'C2 E2', { step: 4, fromTarget: true, toTarget: false }],
    ['into a downbeat', 'C7 | F7', 3, 'E2 F2', { step: 1, fromTarget: false, toTarget: true, toRoot: true }],
    ['round to the top', 'C7 | F7', 7, 'B1 C2', { toTarget: true, toRoot: true }],
    ['to the fifth of a chord', 'C7 | F7', 3, 'B1 C2', { toTarget: true, toRoot: false }],
    ['to a slash bass', 'C7 | F7/A', 3, 'G2 A2', { toRoot: true }],
    ['to the root over another bass', 'C7 | F7/A', 3, 'G2 F2', { toRoot: false }],
    ['within the chord', 'C7 | F7', 0, 'C2 Bb1', { from: 'chord', to: 'chord' }],
    ['from the scale to the outside', 'C7 | F7', 1, 'D2 C#2', { from: 'scale', to: 'outside' }],
    ['each note by its own chord', 'C7 | F#7', 3, 'C2 C#2', { from: 'chord', to: 'chord' }],
    ['two before a target', 'C7 | F7', 1, 'E2 F#2', { toFirstSide: true, toLastBeforeTarget: false }],
    ['one before a target', 'C7 | F7', 2, 'E2 F#2', { toFirstSide: false, toLastBeforeTarget: true }],
    ['from one side of a target to the other', 'C7 | F7', 2, 'F#2 E2', { encloses: true }],
    ['across by a third from the scale', 'C7 | F7', 2, 'A2 F#2', { encloses: true }],
    ['a tone on the scale is no crossing', 'C7 | F7', 2, 'A2 G2', { encloses: false }],
    ['nor a chord note left by a third', 'C7 | F7', 2, 'E2 G2', { encloses: false }],
    ['nor a semitone', 'C7 | F7', 2, 'F#2 G2', { encloses: false }],
    ['nor anything earlier', 'C7 | F7', 1, 'F#2 E2', { encloses: false }],
    ['a denied note on a strong beat', 'C7 | C7', 2, 'F2 G2', { fromDenies: true }],
    ['the same on a weak one', 'C7 | C7', 1, 'F2 G2', { fromDenies: false }],
    ['a note that belongs to what comes', 'C7 | Db7', 3, 'Cb2 Db2', { fromFitsTarget: true }],
    ['one that is strange to it', 'C7 | C7', 3, 'F#2 E2', { from: 'outside', fromFitsTarget: false }],
    ['a short chord without root', 'C7 F7 | G7', 0, 'E2 D2', { leavesUnspoken: true }],
    ['a short chord with its root first', 'C7 F7 | G7', 0, 'C2 D2', { leavesUnspoken: false }],
    ['a short chord with its root second', 'C7 F7 | G7', 0, 'E2 C2', { leavesUnspoken: false }],
    ['a short chord with third and fifth', 'C7 F7 | G7', 0, 'G2 E2', { leavesUnspoken: false }],
    ['a longer chord', 'C7 | F7', 0, 'E2 D2', { leavesUnspoken: false }],
    ['a walking line', 'C7 | F7', 0, 'C2 E2', { manner: 'walks' }],
    ['long notes', 'Feel: two-feel\nC7 | F7', 0, 'C2 G2', { manner: 'holds' }],
    ['a pattern', 'Feel: bossa\nC7 | F7', 0, 'C2 G2', { manner: 'patterns' }],
  ])('%s: %s', (_what, chart, at, notes, seen) => expect(stepIn(chart, at, notes)).toMatchObject(seen));
});
