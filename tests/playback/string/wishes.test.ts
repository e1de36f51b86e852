// Which sounds a line asks of the computed bass, and how they are computed and kept.
import { describe, expect, it } from 'vitest';
import { barIndex, type BarIndex } from '../../../src/music';
import { makeSchedule, type BassEvent } from '../../../src/playback';
import { StringWork, type StringAnswer } from '../../../src/playback/string/protocol';
import { SoundShelf } from '../../../src/playback/string/shelf';
import {
  bytesOf,
  computeWish,
  gainOfNote,
  nameOf,
  noteWish,
  slideWish,
  thoseThatFit,
  stringWishes,
  type StringBass,
} from '../../../src/playback/string/wishes';
import { musicOf, settingsWith, swingBlues, type Moment } from '../fixtures';
import { loudness } from './measures';

const bass: StringBass = { kind: 'upright', lengthMm: 1060 };
const secondsPerTick = 60 / 120 / 480;
const scheduleOf = (moments?: readonly Moment[], from?: BarIndex) =>
  makeSchedule(musicOf(swingBlues, moments), settingsWith({ isLoose: false }), from);
const bassOf = (moments: readonly Moment[]): BassEvent[] =>
  scheduleOf(moments).events.filter((event): event is BassEvent => event.part === 'bass');

describe('the wishes of a line', () => {
  it('name every note once, the first bars first, from where playing starts', () => {
    const { events } = scheduleOf();
    const wishes = stringWishes(scheduleOf(), bass, secondsPerTick);
    const names = wishes.map(nameOf);
    expect(new Set(names).size).toBe(names.length);
    const played = events.filter((event): event is BassEvent => event.part === 'bass');
    expect(names[0]).toBe(nameOf(noteWish(played[0]!, bass, 0.5)));
    for (const event of played) expect(names).toContain(nameOf(noteWish(event, bass, 1)));
    const later = stringWishes(scheduleOf(undefined, barIndex(4)), bass, secondsPerTick).map(nameOf);
    expect(later[0]).toBe(nameOf(noteWish(played[16]!, bass, 0.5)));
    expect([...later].sort()).toEqual([...names].sort());
  });

  it('are as long as the longest use, and longer at a slow tempo', () => {
    const moments = [
      { tick: 0, ticks: 480 },
      { tick: 480, ticks: 480, midi: 40 },
      { tick: 960, ticks: 480, midi: 41 },
      { tick: 1440, ticks: 1920 },
    ];
    const [first] = stringWishes(scheduleOf(moments), bass, secondsPerTick);
    // The fourth note is the first once more, four beats long.
    expect(first!.seconds).toBeGreaterThanOrEqual(1.9);
    const [slow] = stringWishes(scheduleOf(moments), bass, secondsPerTick * 2);
    expect(slow!.seconds).toBeGreaterThan(first!.seconds);
    expect(nameOf(slow!)).toBe(nameOf(first!));
  });

  it('never ask for the same stroke twice in a row on one note', () => {
    const repeated = [0, 480, 960, 1440].map((tick) => ({ tick, ticks: 480 }));
    const names = bassOf(repeated).map((event) => nameOf(noteWish(event, bass, 0.5)));
    names.slice(1).forEach((name, i) => expect(name).not.toBe(names[i]));
  });

  it('keep a bare shift, a muted note, a pulled and a hammered one, a drop over the strings apart', () => {
    const [, shifted, , ghost, , pulled, , hammered, , raked] = bassOf([
      { tick: 0, ticks: 480, midi: 40, stop: 2 },
      { tick: 480, ticks: 480, midi: 44, stop: 6, move: 'bare shift' },
      { tick: 960, ticks: 240, midi: 45 },
      { tick: 1200, ticks: 240, articulation: 'ghost' },
      { tick: 1440, ticks: 160, midi: 45 },
      { tick: 1600, ticks: 160, midi: 43, articulation: 'triplet' },
      { tick: 1920, ticks: 160, midi: 43 },
      { tick: 2080, ticks: 160, midi: 45, articulation: 'triplet' },
      { tick: 2400, ticks: 240, midi: 45, string: 1 },
      { tick: 2640, ticks: 240, midi: 38, string: 2, articulation: 'drop' },
    ]);
    expect([shifted, ghost, pulled, hammered, raked].map((event) => event?.touch)).toEqual([
      'plucked',
      'dead',
      'pulled',
      'hammered',
      'raked',
    ]);
    expect(slideWish(shifted!, bass)).toMatchObject({ what: 'slide', from: 2, isOnString: true });
    for (const event of [ghost, pulled, hammered, raked]) expect(slideWish(event!, bass)).toBeNull();
    expect(noteWish(ghost!, bass, 0.2).what).toBe('dead');
  });

  it('come near the loudness that was meant: step and level together', () => {
    const [event] = bassOf([{ tick: 0, ticks: 480, midi: 40 }]);
    const levels = [0.5, 0.6, 0.62, 0.64, 0.7, 0.8, 0.9].map((velocity) => {
      const played = { ...event!, velocity };
      const sound = computeWish(noteWish(played, bass, 0.5), 44_100);
      return loudness(sound.map((value) => value * gainOfNote(played, bass)));
    });
    // 20 LU for the whole range, wherever a step begins; the noise of the stroke makes it a little less even.
    const perUnit = (levels.at(-1)! - levels[0]!) / 0.4;
    expect(perUnit).toBeGreaterThan(18);
    expect(perUnit).toBeLessThan(22);
    expect(Math.abs(levels[2]! - levels[1]! - 0.4)).toBeLessThan(0.3);
    expect(Math.abs(levels[3]! - levels[2]! - 0.4)).toBeLessThan(0.3);
  });

  it('are cut to what fits, from the end', () => {
    const wishes = stringWishes(scheduleOf(), bass, secondsPerTick);
    const limit = bytesOf(wishes[0]!, 44_100) + bytesOf(wishes[1]!, 44_100);
    expect(thoseThatFit(wishes, 44_100, limit)).toEqual(wishes.slice(0, 2));
    expect(thoseThatFit(wishes, 44_100, 48 * 2 ** 20)).toHaveLength(wishes.length);
  });
});

describe('the work of the worker', () => {
  it('goes in the order asked for, and turns to a new ask before the old one is done', () => {
    const waiting: (() => void)[] = [];
    const answers: StringAnswer[] = [];
    const work = new StringWork(
      (answer) => answers.push(answer),
      (then) => waiting.push(then),
    );
    const wishes = stringWishes(scheduleOf(), bass, secondsPerTick);
    work.ask({ wishes: wishes.slice(0, 6), sampleRate: 8000 });
    waiting.shift()!();
    waiting.shift()!();
    work.ask({ wishes: wishes.slice(8, 9), sampleRate: 8000 });
    while (waiting.length > 0) waiting.shift()!();
    expect(answers.map(({ name }) => name)).toEqual([wishes[0]!, wishes[1]!, wishes[8]!].map(nameOf));
    expect([...answers[0]!.samples]).toEqual([...computeWish(wishes[0]!, 8000)]);
    work.ask({ wishes: wishes.slice(9, 10), sampleRate: 8000 });
    while (waiting.length > 0) waiting.shift()!();
    expect(answers).toHaveLength(4);
  });
});

describe('the shelf', () => {
  const one = { sound: 'x', seconds: 1, bytes: 40 };

  it('holds no more bytes than it may, and lets go of what was used longest ago', () => {
    const shelf = new SoundShelf<string>(100);
    shelf.put('a', one);
    shelf.put('b', one);
    expect(shelf.get('a')).toBe('x');
    shelf.put('c', one);
    expect([shelf.bytes, shelf.names]).toEqual([80, ['a', 'c']]);
    shelf.put('huge', { ...one, bytes: 101 });
    expect(shelf.names).toEqual(['a', 'c']);
  });

  it('keeps the longer of two sounds with one name, and says which it has', () => {
    const shelf = new SoundShelf<string>(100);
    shelf.put('a', one);
    expect([shelf.has('a', 1), shelf.has('a', 1.1), shelf.has('b', 0)]).toEqual([true, false, false]);
    shelf.put('a', { sound: 'long', seconds: 2, bytes: 60 });
    expect([shelf.get('a'), shelf.bytes, shelf.has('a', 2)]).toEqual(['long', 60, true]);
  });
});
