import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { plainSettings } from '../../src/pipeline';
import { newStudy, studyDefaults, studyRange, type Study } from '../../src/state/document';
import { envelop, fileSizeLimit, restore, restoreText, studyFile } from '../../src/state/envelope';
import { findKey } from '../../src/state/keys';
import { soundingMidi, barNumber, type Bpm, type Millimetres } from '../../src/music';
import type { HandPosition, StringNumber } from '../../src/instrument';

const full: Study = newStudy('Title: Back Stairs\n| F7 | Bb7 |', {
  key: findKey('Eb minor') ?? null,
  tempo: 132 as Bpm,
  choruses: 3,
  stringLength: 1040 as Millimetres,
  span: 162 as Millimetres,
  barred: [1, 3] as HandPosition[],
  lowStay: 6,
  stayIn: 'any',
  comfort: 1.5,
  pins: [
    {
      bar: barNumber(2),
      beat: 2.5,
      midi: soundingMidi(41),
      string: 2 as StringNumber,
      stop: 3,
      finger: '1',
      position: 3 as HandPosition,
    },
  ],
  seed: 7,
  temperature: 0.25,
  lesson: { layer: 'below', ground: 'block', from: 'frame' },
  own: {
    notes: [
      { bar: 0, at: 480, ticks: 480, midi: 43, string: null, finger: null, otherFingers: [] },
      { bar: 1, at: 0, ticks: 960, midi: 45, string: 2, finger: '4', otherFingers: ['2', 'T'] },
    ] as never,
    fingering: 'theirs',
  },
});

/** The first layout ever written, as text: it must stay readable for good. */
const versionOne = `{"format":"ramble-study","version":1,"study":{"chartText":"| F7 |","key":{"tonic":"Bb","mode":"major","fifths":-2},"tempo":140,"choruses":2,"instrument":"bass-3/4","stringLength":null,"span":150,"barred":[1],"seed":4,"temperature":0.5}}`;

describe('the restore gate', () => {
  it('gives back what was put in, through JSON and structured cloning', () => {
    const expected = { ok: true, study: full, replaced: [] };
    expect(restore(envelop(full))).toEqual(expected);
    expect(restore(structuredClone(envelop(full)))).toEqual(expected);
    expect(restoreText(studyFile(full))).toEqual(expected);
  });

  it('reads the first version', () => {
    const restored = restoreText(versionOne);
    expect(restored).toMatchObject({
      ok: true,
      replaced: [],
      study: { chartText: '| F7 |', tempo: 140, barred: [1], key: { tonic: 'Bb', fifths: -2 } },
    });
  });

  it('has no lesson where a file says nothing of one, and tells of one that there is not', () => {
    const { format, version, study } = envelop(full);
    const read = (lesson: unknown): unknown => {
      const restored = restore({ format, version, study: { ...study, lesson } });
      return restored.ok && [restored.study.lesson, restored.replaced];
    };
    expect(read(undefined)).toEqual([null, []]);
    expect(read(null)).toEqual([null, []]);
    const { lesson } = full;
    for (const strange of [
      { ...lesson, layer: 'attic' },
      { ...lesson, from: 3 },
      { ground: 'block' },
      'below',
    ])
      expect(read(strange)).toEqual([null, ['lesson']]);
  });

  it('puts defaults where fields are missing or wrong, and says which', () => {
    const restored = restore({
      format: 'ramble-study',
      version: 1,
      study: {
        chartText: 'x',
        tempo: 9000,
        span: 'wide',
        barred: [1, 1, 0.5],
        seed: 2,
        key: { tonic: 'H', mode: 'major' },
      },
    });
    expect(restored.ok && restored.study).toMatchObject({ ...studyDefaults, chartText: 'x', seed: 2 });
    expect(restored.ok && [...restored.replaced].sort()).toEqual(
      ['barred', 'choruses', 'instrument', 'key', 'span', 'stringLength', 'temperature', 'tempo'].sort(),
    );
  });

  it('computes the signature of a key itself and refuses keys no signature can show', () => {
    const withKey = (tonic: string, fifths: number): unknown => ({
      ...envelop(full),
      study: { ...envelop(full).study, key: { tonic, mode: 'major', fifths } },
    });
    const lying = restore(withKey('Ab', 5));
    expect(lying.ok && lying.study.key?.fifths).toBe(-4);
    const impossible = restore(withKey('G#', 1));
    expect(impossible.ok && impossible.study.key).toBeNull();
  });

  it.each<[string, unknown, string]>([
    ['nothing', undefined, 'not a study'],
    ['null', null, 'not a study'],
    ['a list', [], 'not a study'],
    ['text', 'ramble-study', 'not a study'],
    ['another format', { format: 'other', version: 1, study: { chartText: '' } }, 'not a study'],
    ['no version', { format: 'ramble-study', study: { chartText: '' } }, 'not a study'],
    ['version zero', { format: 'ramble-study', version: 0, study: { chartText: '' } }, 'not a study'],
    ['a newer version', { format: 'ramble-study', version: 3, study: { chartText: '' } }, 'newer version'],
    ['no chart', { format: 'ramble-study', version: 1, study: {} }, 'no chart'],
    [
      'a chart that is no text',
      { format: 'ramble-study', version: 1, study: { chartText: { length: 1 } } },
      'no chart',
    ],
    [
      'a huge chart',
      { format: 'ramble-study', version: 1, study: { chartText: 'x'.repeat(studyRange.chartText.most + 1) } },
      'too large',
    ],
  ])('refuses %s', (_name, input, reason) => {
    expect(restore(input)).toEqual({ ok: false, reason });
  });

  it('refuses broken JSON and oversized files', () => {
    expect(restoreText(versionOne.slice(0, -3))).toEqual({ ok: false, reason: 'not a study' });
    expect(restoreText(' '.repeat(fileSizeLimit + 1))).toEqual({ ok: false, reason: 'too large' });
  });

  it('does not let names of the object prototype through', () => {
    const restored = restoreText(
      versionOne.replace('"seed":4', '"seed":4,"__proto__":{"polluted":true},"constructor":{"x":1}'),
    );
    expect(restored.ok && Object.keys(restored.study).sort()).toEqual(Object.keys(full).sort());
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });

  it('answers anything whatever without a throw', () => {
    fc.assert(
      fc.property(fc.anything(), (input) => {
        expect(typeof restore(input).ok).toBe('boolean');
      }),
    );
    fc.assert(
      fc.property(fc.dictionary(fc.constantFrom(...Object.keys(full)), fc.anything()), (study) => {
        const restored = restore({ format: 'ramble-study', version: 1, study });
        if (!restored.ok) return;
        const { tempo, span, barred } = restored.study;
        expect(
          tempo === null || (tempo >= plainSettings.tempo.least && tempo <= plainSettings.tempo.most),
        ).toBe(true);
        expect(span).toBeGreaterThanOrEqual(plainSettings.span.least);
        expect(barred.every((position) => Number.isInteger(position))).toBe(true);
      }),
    );
  });
});
