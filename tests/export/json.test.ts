import { describe, expect, it } from 'vitest';
import { chartToJson, toJson } from '../../src/export';
import { handPosition, makeHand, positionName } from '../../src/instrument';
import { makeTimeline, readChart, walk, type WalkResult } from '../../src/pipeline';
import { requestFor } from '../pipeline/request';
import { makeTest, naming } from './build';

const chartText = 'Title: Ours\nKey: C minor\nTempo: 97\n|: Cm7 | F7/A :| N.C. | Dm7b5 G7alt |';

const walked = (): WalkResult =>
  walk(requestFor(chartText, { hand: makeHand(150), take: { seed: 5, temperature: 0.7 } }));

describe('toJson', () => {
  it('gives every note as it sounds, its place, and costs that add up', () => {
    const result = walked();
    const json = JSON.parse(toJson(result, { positionName }));
    expect(Object.keys(json)).toEqual([
      'title',
      'key',
      'tempo',
      'cost',
      'costUnit',
      'notes',
      'devices',
      'report',
      'impossible',
      'problems',
    ]);
    expect(json).toMatchObject({ title: 'Ours', key: 'C minor', tempo: 97, impossible: null });
    expect(json.notes).toHaveLength(result.line!.notes.length);
    const sum = json.notes.reduce((total: number, note: { cost: number }) => total + note.cost, 0);
    expect(sum).toBe(json.cost);
    const opens: Record<string, number> = { I: 43, II: 38, III: 33, IV: 28 };
    for (const note of json.notes) {
      expect(opens[note.string]! + note.stop).toBe(note.midi);
      expect(note.position).toBe(positionName(handPosition(note.positionSemitone)));
      expect(note.finger).toMatch(/^[0-4T]$/);
    }
    expect(json.report.byRegion.map(({ region }: { region: string }) => region)).toContain('open');
  });

  it('names sounding pitches scientifically', () => {
    const { timeline, line } = makeTest({ bars: [{}] }, [
      { tick: 0, ticks: 480, midi: 34, name: 'Bb', string: 4, finger: '2', position: 5, cost: 120 },
    ]);
    const result: WalkResult = { ...walked(), timeline, line };
    expect(JSON.parse(toJson(result, naming)).notes).toEqual([
      {
        bar: 1,
        beat: 1,
        tick: 0,
        ticks: 480,
        midi: 34,
        name: 'Bb1',
        chord: 'C',
        degree: { place: 'chord', number: 1, semitones: 0, name: 'root' },
        device: null,
        label: 'root',
        role: 'root',
        reason: 'A note.',
        rulesKept: [],
        rulesStretched: [],
        string: 'IV',
        stop: 6,
        finger: '2',
        position: 'P5',
        nextPosition: null,
        positionSemitone: 5,
        carry: null,
        cost: 120,
        items: [],
      },
    ]);
  });

  it('tells why there is no line', () => {
    const impossible = {
      message: 'No way through bar 2.',
      freeing: [handPosition(1)],
      conflict: [],
      cheapest: null,
      together: [],
    };
    const json = JSON.parse(toJson({ ...walked(), line: null, impossible }, naming));
    expect(json).toMatchObject({ cost: null, notes: [], report: null });
    expect(json.impossible).toEqual({
      message: 'No way through bar 2.',
      freeing: ['P1'],
      conflict: [],
      cheapest: null,
      together: [],
    });
  });
});

describe('chartToJson', () => {
  it('lists the tones an altered chord is played with', () => {
    const { chart } = readChart('| C7alt | C7 |');
    const { timeline } = makeTimeline(chart, { choruses: 1, tempo: null });
    const { bars } = JSON.parse(chartToJson(chart, timeline, [])) as { bars: { chords: object[] }[] };
    expect(bars[0]!.chords[0]).toMatchObject({
      tones: ['C', 'E', 'Bb'],
      choices: ['Gb', 'G#', 'Db', 'D#', 'F#', 'Ab'],
    });
    expect(bars[1]!.chords[0]).not.toHaveProperty('choices');
  });

  it('gives bars in playing order, tones from the root', () => {
    const { chart, problems } = readChart(`${chartText} H7 |`);
    const { timeline } = makeTimeline(chart, { choruses: 1, tempo: null });
    const json = JSON.parse(chartToJson(chart, timeline, problems));
    expect(json).toMatchObject({ title: 'Ours', key: 'C minor' });
    expect(json.bars.slice(0, 5)).toEqual([
      {
        number: 1,
        meter: '4/4',
        chords: [{ beat: 1, symbol: 'Cm7', root: 'C', bass: null, tones: ['C', 'Eb', 'G', 'Bb'] }],
      },
      {
        number: 2,
        meter: '4/4',
        chords: [{ beat: 1, symbol: 'F7/A', root: 'F', bass: 'A', tones: ['F', 'A', 'C', 'Eb'] }],
      },
      {
        number: 3,
        meter: '4/4',
        chords: [{ beat: 1, symbol: 'Cm7', root: 'C', bass: null, tones: ['C', 'Eb', 'G', 'Bb'] }],
      },
      {
        number: 4,
        meter: '4/4',
        chords: [{ beat: 1, symbol: 'F7/A', root: 'F', bass: 'A', tones: ['F', 'A', 'C', 'Eb'] }],
      },
      { number: 5, meter: '4/4', chords: [{ beat: 1, symbol: 'N.C.', root: null, bass: null, tones: [] }] },
    ]);
    expect(
      json.bars[5].chords.map(({ beat, symbol }: { beat: number; symbol: string }) => [beat, symbol]),
    ).toEqual([
      [1, 'Dm7b5'],
      [3, 'G7alt'],
    ]);
    expect(json.problems[0]).toMatchObject({ code: expect.any(String), line: 4, column: expect.any(Number) });
    expect(json.problems[0].message).toMatch(/\w/);
  });

  it('has no bars when nothing can be played', () => {
    const { chart, problems } = readChart('');
    const json = JSON.parse(chartToJson(chart, null, problems));
    expect(json.bars).toEqual([]);
    expect(json.key).toBeNull();
    expect(json.problems).toHaveLength(1);
  });
});
