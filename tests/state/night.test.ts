// A night as it is saved: round trips through file and link, hostile input, studies that changed, the verbs.
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { regions } from '../../src/instrument';
import { bpm, parseKey, barNumber } from '../../src/music';
import { noMeasure, type NightPlan, type NightWish } from '../../src/night';
import * as nights from '../../src/state/night';
import { newStudy } from '../../src/state/study';
import { findKey } from '../../src/state/keys';

const chart = 'Title: Back Stairs\nKey: F\n| F7 | Bb7 | F7 | C7 |';
const study = newStudy(chart, {
  barred: [1] as never,
  temperature: 0.5,
  pins: [{ bar: barNumber(1), beat: 1, role: 'root' }],
});
const tune = nights.tuneOf(study, 'a');

const keys = ['F', 'Bb', 'C minor'].map((name) =>
  findKey(parseKey(name)!.mode === 'minor' ? name : `${name} major`)!,
);
const anyTune = fc.record({
  study: fc.string({ maxLength: 60 }).map((text) => newStudy(text)),
  source: fc.option(fc.record({ id: fc.string({ maxLength: 20 }), mark: fc.string({ maxLength: 7 }) })),
  key: fc.option(fc.constantFrom(...keys)),
  tempo: fc.option(fc.integer({ min: 40, max: 320 }).map(bpm)),
  choruses: fc.integer(nights.nightRange.choruses.least === 1 ? { min: 1, max: 32 } : {}),
  walked: fc.integer({ min: 0, max: 100 }).map((percent) => percent / 100),
  feel: fc.option(fc.constantFrom('swing' as const, 'waltz' as const)),
  pinned: fc.constantFrom('first' as const, 'last' as const, null),
});
const anyWish: fc.Arbitrary<NightWish> = fc.oneof(
  fc.record({
    kind: fc.constantFrom('most' as const, 'least' as const),
    region: fc.constantFrom(...regions),
    minutes: fc.integer({ min: 0, max: 600 }),
  }),
  fc.record({ kind: fc.constant('stay' as const), seconds: fc.integer({ min: 1, max: 600 }) }),
);
const anyNight: fc.Arbitrary<nights.Night> = fc.record({
  title: fc.string({ maxLength: 120 }),
  start: fc.option(fc.integer({ min: 0, max: 1439 })),
  between: fc.integer({ min: 0, max: 30 }).map((halves) => halves / 2),
  sets: fc.array(
    fc.record({ tunes: fc.array(anyTune, { maxLength: 4 }), breakAfter: fc.integer({ min: 0, max: 180 }) }),
    { minLength: 1, maxLength: 4 },
  ),
  wishes: fc.uniqueArray(anyWish, {
    maxLength: 4,
    selector: (wish) => (wish.kind === 'stay' ? 'stay' : `${wish.kind} ${wish.region}`),
  }),
});

describe('a night', () => {
  it('comes back whole from its file and its link', () => {
    fc.assert(
      fc.property(anyNight, (night) => {
        const whole = { ok: true, night, replaced: [] };
        expect(nights.restoreNightText(nights.nightFile(night))).toEqual(whole);
        const link = nights.nightLink(night, 'https://example.org/ramble/#old');
        expect(link.split('#')).toHaveLength(2);
        expect(nights.readNightFragment(link.slice(link.indexOf('#')))).toEqual(whole);
      }),
      { numRuns: 40 },
    );
  });

  it('keeps what a study asks for, without the notes shown for it', () => {
    const night = nights.addTune(nights.newNight('Corner'), 0, tune);
    const restored = nights.restoreNightText(nights.nightFile(night));
    expect(restored).toMatchObject({ ok: true, replaced: [] });
    const back = restored.ok ? restored.night.sets[0]!.tunes[0]! : null;
    expect(back).toEqual(tune);
    expect(back!.study).toMatchObject({ barred: [1], temperature: 0.5, kept: [], stars: [] });
  });
});

describe('the gate', () => {
  it('refuses what is no night, with why', () => {
    const reason = (text: string): unknown => {
      const restored = nights.restoreNightText(text);
      return restored.ok ? null : restored.reason;
    };
    for (const text of ['', '{', '[]', 'null', '{"format":"ramble-study","version":1,"study":{}}'])
      expect(reason(text)).toBe('not a night');
    expect(reason('{"format":"ramble-night","version":99,"night":{"sets":[]}}')).toBe('newer version');
    expect(reason(' '.repeat(nights.nightSizeLimit + 1))).toBe('too large');
  });

  it('leaves a damaged tune or wish out, says so, and keeps the rest', () => {
    const night = nights.addTune(nights.addTune(nights.newNight('Corner'), 0, tune), 0, tune);
    const stored = JSON.parse(nights.nightFile(night)) as {
      night: { sets: { tunes: Record<string, unknown>[] }[]; wishes: unknown[]; start: unknown };
    };
    stored.night.sets[0]!.tunes[0]!['study'] = 'nonsense';
    stored.night.sets[0]!.tunes[1]!['choruses'] = -4;
    stored.night.wishes = [{ kind: 'most', region: 'nowhere', minutes: 1 }, null];
    stored.night.start = 'late';
    const restored = nights.restoreNight(stored);
    expect(restored).toMatchObject({ ok: true });
    if (!restored.ok) return;
    expect(restored.night.sets[0]!.tunes).toHaveLength(1);
    expect(restored.night.sets[0]!.tunes[0]!.choruses).toBe(study.choruses);
    expect(restored.replaced).toEqual(['start', 'tune', 'choruses', 'wish']);
  });

  it('never throws, whatever it is given', () => {
    fc.assert(
      fc.property(fc.json(), fc.string(), (json, text) => {
        nights.restoreNightText(json);
        nights.restoreNight({ format: 'ramble-night', version: 1, night: { sets: [JSON.parse(json)] } });
        nights.readNightFragment(`#n1.${text}`);
      }),
    );
  });

  it('tells a link that was cut, and takes no notice of one that is not a night’s', () => {
    const link = nights.nightLink(nights.newNight('Corner'), 'https://example.org/');
    const fragment = link.slice(link.indexOf('#'));
    expect(nights.readNightFragment(fragment.slice(0, -4))).toEqual({ ok: false, reason: 'cut' });
    expect(nights.readNightFragment(fragment.replace('n1', 'n2'))).toEqual({
      ok: false,
      reason: 'newer version',
    });
    for (const other of ['', '#', '#1.abc.def', '#next']) {
      expect(nights.readNightFragment(other)).toEqual({ kind: 'none' });
    }
  });
});

describe('a tune from a study', () => {
  it('tells a change of the study, but not another take of it', () => {
    expect(nights.toldOf(tune, study)).toBe('same');
    expect(nights.toldOf(tune, { ...study, seed: 7, redraws: 2 })).toBe('same');
    expect(nights.toldOf(tune, { ...study, chartText: `${chart} G7 |` })).toBe('changed');
    expect(nights.toldOf(tune, { ...study, barred: [] })).toBe('changed');
    expect(nights.toldOf(tune, null)).toBe('gone');
  });

  it('takes the study as it is now when it is asked to, and keeps what the night says', () => {
    const tonight = { ...tune, tempo: bpm(180), choruses: 9 };
    const changed = { ...study, chartText: `${chart} G7 |` };
    const renewed = nights.renewed(tonight, changed);
    expect(renewed).toMatchObject({ tempo: 180, choruses: 9, study: { chartText: changed.chartText } });
    expect(nights.toldOf(renewed, changed)).toBe('same');
  });

  it('is asked for as the night says, with pins of a note only in the key they were set in', () => {
    const pins = [
      {
        bar: barNumber(1),
        beat: 1,
        midi: 41 as never,
        string: 4 as never,
        stop: 1,
        finger: '1' as const,
        position: 1 as never,
      },
      { bar: barNumber(2), beat: 1, role: 'root' as const },
    ];
    const own = nights.tuneOf({ ...study, pins: pins }, null);
    const key = findKey('Bb major')!;
    expect(nights.tuneRequest(own).pins).toHaveLength(2);
    expect(nights.tuneRequest({ ...own, key }).pins).toEqual([pins[1]]);
    const request = nights.tuneRequest({ ...own, key, tempo: bpm(99), choruses: 20, feel: 'bossa' });
    expect(request).toMatchObject({ key, tempo: 99, choruses: 20, feel: 'bossa', kept: [] });
  });
});

describe('the verbs', () => {
  const titled = (title: string): nights.Tune => nights.tuneOf(newStudy(`Title: ${title}\n| C |`), null);
  const three = ['one', 'two', 'three'].reduce(
    (night, title) => nights.addTune(night, 0, titled(title)),
    nights.addSet(nights.newNight('')),
  );
  const titles = (night: nights.Night): string[][] =>
    night.sets.map(({ tunes }) => tunes.map(nights.tuneTitle));

  it('move a tune within its set and on to the next', () => {
    expect(titles(nights.moveTune(three, { set: 0, tune: 0 }, 1).night)).toEqual([
      ['two', 'one', 'three'],
      [],
    ]);
    const moved = nights.moveTune(three, { set: 0, tune: 2 }, 1);
    expect(titles(moved.night)).toEqual([['one', 'two'], ['three']]);
    expect(moved.place).toEqual({ set: 1, tune: 0 });
    expect(titles(nights.moveTune(moved.night, moved.place, -1).night)).toEqual([
      ['one', 'two', 'three'],
      [],
    ]);
    expect(nights.moveTune(three, { set: 0, tune: 0 }, -1).night).toBe(three);
  });

  it('put a set in another order, only when it is one', () => {
    expect(titles(nights.reorderSet(three, 0, [2, 0, 1]))[0]).toEqual(['three', 'one', 'two']);
    for (const order of [
      [0, 1],
      [0, 0, 1],
      [0, 1, 3],
      [0, 1, 2],
    ])
      expect(nights.reorderSet(three, 0, order)).toBe(three);
  });

  it('pin one tune at an end', () => {
    const first = nights.pinTune(three, { set: 0, tune: 1 }, 'first');
    const other = nights.pinTune(first, { set: 0, tune: 2 }, 'first');
    expect(other.sets[0]!.tunes.map(({ pinned }) => pinned)).toEqual([null, null, 'first']);
  });

  it('keep numbers in their range, and one wish for a thing', () => {
    const place = { set: 0, tune: 0 };
    expect(nights.tuneAt(nights.setTuneNumber(three, place, 'choruses', 900), place)!.choruses).toBe(32);
    expect(nights.tuneAt(nights.setTuneNumber(three, place, 'walked', -1), place)!.walked).toBe(0);
    expect(nights.tuneAt(nights.setTuneNumber(three, place, 'tempo', null), place)!.tempo).toBeNull();
    const once = nights.setWish(three, { kind: 'most', region: 'low', minutes: 9 });
    expect(nights.setWish(once, { kind: 'most', region: 'low', minutes: 5 }).wishes).toEqual([
      { kind: 'most', region: 'low', minutes: 5 },
    ]);
    expect(nights.liftWish(once, once.wishes[0]!).wishes).toEqual([]);
  });

  it('hold no more tunes and sets than there is room for, and never fewer than one set', () => {
    let night = nights.newNight('');
    for (let at = 0; at < 50; at++) night = nights.addSet(nights.addTune(night, 0, titled('x')));
    expect(nights.countTunes(night)).toBe(nights.nightRange.tunes.most);
    expect(night.sets).toHaveLength(nights.nightRange.sets.most);
    const one = nights.newNight('');
    expect(nights.removeSet(one, 0)).toBe(one);
  });
});

describe('the bounds of a region', () => {
  const { boundOf, setBound, newNight } = nights;

  it('are asked for and lifted one by one, and do not cross', () => {
    let night = setBound(newNight(''), 'low', 'most', 12);
    expect(boundOf(night, 'low', 'most')).toBe(12);
    expect(boundOf(night, 'low', 'least')).toBeNull();
    night = setBound(night, 'low', 'least', 5);
    expect([boundOf(night, 'low', 'least'), boundOf(night, 'low', 'most')]).toEqual([5, 12]);
    night = setBound(night, 'low', 'least', 20);
    expect([boundOf(night, 'low', 'least'), boundOf(night, 'low', 'most')]).toEqual([20, 20]);
    night = setBound(night, 'low', 'most', 3);
    expect([boundOf(night, 'low', 'least'), boundOf(night, 'low', 'most')]).toEqual([3, 3]);
    night = setBound(setBound(night, 'low', 'most', null), 'low', 'least', null);
    expect(night.wishes).toEqual([]);
    expect(setBound(night, 'low', 'least', null)).toBe(night);
    expect(setBound(night, 'low', 'least', Number.NaN)).toBe(night);
  });
});

describe('the clock', () => {
  it('reads and says times', () => {
    expect(['20:30', '8.05', '25:00', '20:61', 'late', ''].map(nights.parseClock)).toEqual([
      1230,
      485,
      null,
      null,
      null,
      null,
    ]);
    expect([0, 1230, 1439.6, 1500].map(nights.clockText)).toEqual(['00:00', '20:30', '00:00', '01:00']);
  });

  it('lays tunes, what lies between them, and breaks end to end', () => {
    const night = nights.setBetween(nights.setBreak(nights.addSet(nights.newNight('')), 0, 15), 1.5);
    const lasting = (...lengths: readonly number[]): NightPlan['sets'][number] =>
      lengths.map((length) => ({ measure: { ...noMeasure, length } }) as NightPlan['sets'][number][number]);
    expect(nights.nightTimes(night, { sets: [lasting(4, 6, 5), lasting(7)] })).toEqual([
      { from: 0, to: 18, tunes: [0, 5.5, 13] },
      { from: 33, to: 40, tunes: [33] },
    ]);
    expect(nights.setBetween(night, 400).between).toBe(nights.nightRange.between.most);
    expect(nights.setBetween(night, Number.NaN)).toBe(night);
  });

  it('leaves no gap between tunes in a night that was saved before there was one', () => {
    const stored = nights.envelopNight(nights.newNight('Old'));
    const night = { ...stored.night, between: undefined };
    expect(nights.restoreNight({ ...stored, night })).toMatchObject({
      ok: true,
      replaced: [],
      night: { between: 0 },
    });
  });
});
