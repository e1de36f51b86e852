// Takes drawn beside the study: runs, hearing, keeping, using; the study is left alone but for what is asked.
import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { barIndex } from '../../../src/music';
import { AuditionSheet } from '../../../src/state/audition-sheet.svelte';
import { Auditions } from '../../../src/state/auditions';
import { Beside } from '../../../src/state/beside.svelte';
import { HandSource } from '../fixtures';
import { setUp } from '../playing-parts';

function page() {
  const desk = setUp();
  const draw = new HandSource();
  let ended = 0;
  const auditions = new Auditions({
    studio: desk.studio,
    playing: desk.playing,
    connect: (...told) => ({ ...draw.connect(...told), dispose: () => ended++ }),
  });
  const answer = (count: number): void => {
    for (let at = 0; at < count; at++) draw.answer(4);
  };
  return { ...desk, draw, auditions, answer, ended: () => ended };
}

const seeds = ({ asks }: HandSource): readonly number[] => asks.map(({ take }) => take.seed);

describe('a run of takes', () => {
  it('draws the ten after the present one, one at a time, none of them kept to the notes on show', () => {
    const { auditions, draw, answer, studio } = page();
    const before = studio.study;
    auditions.begin();
    expect(draw.asks).toHaveLength(1);
    answer(4);
    draw.onprogress({ pass: 'solve' as never, done: 0.5 });
    expect(auditions.progress).toEqual({ done: 4, of: 10, share: 0.45 });
    answer(6);
    expect(seeds(draw)).toEqual([2, 3, 4, 5, 6, 7, 8, 9, 10, 11]);
    expect(draw.asks.every(({ kept }) => kept?.length === 0)).toBe(true);
    expect(auditions.takes.map(({ seed }) => seed)).toEqual(seeds(draw));
    expect(auditions.progress).toBeNull();
    auditions.more();
    answer(10);
    expect(auditions.takes).toHaveLength(20);
    expect(seeds(draw).at(-1)).toBe(21);
    expect(studio.study).toBe(before);
    expect(studio.canUndo).toBe(false);
  });

  it('can be stopped: what was drawn stays, and more go on from there', () => {
    const { auditions, draw, answer } = page();
    auditions.begin();
    answer(3);
    auditions.stop();
    expect(draw.cancels).toBe(1);
    expect([auditions.takes.length, auditions.progress]).toEqual([3, null]);
    auditions.more();
    expect(seeds(draw).at(-1)).toBe(5);
  });

  it('draws with variety where the study asks for the one best line', () => {
    const { auditions, draw, studio } = page();
    studio.set('temperature', 0);
    auditions.begin();
    expect(draw.asks[0]?.take.temperature).toBe(1);
  });

  it('ends where there is no line, and where the computation breaks', () => {
    const { auditions, draw, answer } = page();
    auditions.begin();
    draw.answer(null);
    expect([auditions.trouble, auditions.progress]).toEqual(['no line', null]);
    auditions.more();
    expect(auditions.trouble).toBeNull();
    answer(1);
    draw.onfailure('broke');
    expect([auditions.trouble, auditions.takes.length]).toEqual(['broke', 1]);
  });

  it('is of the study as it is; another tempo changes nothing, other changes call for other takes', () => {
    const { auditions, answer, studio } = page();
    auditions.begin();
    answer(10);
    studio.set('tempo', 180);
    expect(auditions.isStale).toBe(false);
    auditions.begin();
    expect(auditions.takes).toHaveLength(10);
    studio.setChartText('| Bb7 |');
    expect(auditions.isStale).toBe(true);
    studio.undo();
    expect(auditions.isStale).toBe(false);
    studio.redo();
    auditions.begin();
    expect(auditions.takes).toHaveLength(0);
    expect(auditions.progress?.done).toBe(0);
  });

  it('goes on with the wishes of the study as they are by then', () => {
    const { auditions, answer, draw, studio } = page();
    auditions.begin();
    answer(10);
    studio.set('bold', 0.5);
    studio.set('tempo', 90);
    auditions.more();
    expect(draw.asks.at(-1)).toMatchObject({ wishes: { bold: 0.5 }, tempo: 90, take: { seed: 12 } });
  });

  it('is given up when the study changes under it', () => {
    const { auditions, answer, studio } = page();
    const stop = $effect.root(() => {
      $effect(() => auditions.follow());
    });
    auditions.begin();
    answer(3);
    flushSync();
    expect(auditions.progress?.done).toBe(3);
    studio.setChartText('| Bb7 |');
    flushSync();
    expect([auditions.progress, auditions.takes.length, auditions.isStale]).toEqual([null, 3, true]);
    stop();
  });

  it('of more like a take asks with its leaning, and tells which', () => {
    const { auditions, answer, draw } = page();
    auditions.begin();
    answer(10);
    const take = auditions.takes[4]!;
    auditions.moreLike(take);
    expect(auditions.like?.take).toBe(take);
    answer(10);
    // All of these are alike, so nothing more is wished for.
    expect(draw.asks.at(-1)?.wishes).toEqual(draw.asks[0]?.wishes);
    auditions.more();
    expect(auditions.like).toBeNull();
  });
});

describe('hearing a take', () => {
  it('plays it from the top and gives the line back when it is pressed again', async () => {
    const { auditions, answer, studio, playback, playing, settings } = page();
    auditions.begin();
    answer(2);
    const own = studio.shown;
    const [first, second] = auditions.takes;
    await auditions.hear(first!);
    expect(playback.music?.notes).toBe(first!.shown.line.notes);
    expect([playback.startedAt, playback.settings.countInBars]).toEqual([undefined, 0]);
    expect([playing.isPlaying || playing.isStarting, auditions.heard]).toEqual([true, first]);
    await auditions.hear(second!);
    flushSync();
    expect(playback.music?.notes).toBe(second!.shown.line.notes);
    expect(auditions.heard).toBe(second);
    await auditions.hear(second!);
    flushSync();
    expect([playing.isPlaying, auditions.heard]).toEqual([false, null]);
    expect(studio.shown).toBe(own);
    expect(playback.music?.notes).toBe(own?.line.notes);
    // The study's own line is counted in as ever.
    await playing.play();
    expect(playback.settings.countInBars).toBe(settings.values.countInBars);
    expect(settings.values.countInBars).toBeGreaterThan(0);
    // Where bars go round, those are heard.
    studio.setBars({ from: barIndex(2), to: barIndex(3) });
    await auditions.hear(first!);
    expect(playback.startedAt).toBe(2);
  });

  it('ends with the player, and with the page', async () => {
    const { auditions, answer, studio, playing, ended } = page();
    const own = studio.shown;
    const stop = $effect.root(() => {
      $effect(() => auditions.follow());
    });
    auditions.begin();
    answer(1);
    await auditions.hear(auditions.takes[0]!);
    flushSync();
    expect(studio.shown).not.toBe(own);
    playing.stop();
    flushSync();
    expect([studio.shown, auditions.heard]).toEqual([own, null]);
    await auditions.hear(auditions.takes[0]!);
    flushSync();
    auditions.leave();
    expect([studio.shown, playing.isPlaying, ended()]).toEqual([own, false, 1]);
    expect(auditions.takes).toHaveLength(1);
    expect(studio.canUndo).toBe(false);
    stop();
  });

  it('goes on while the take is kept', async () => {
    const { auditions, answer, studio, source } = page();
    auditions.begin();
    answer(1);
    const take = auditions.takes[0]!;
    await auditions.hear(take);
    auditions.toggleKept(take, 'Take 2');
    source.answer(4);
    expect(studio.shown?.line).toBe(take.shown.line);
    expect(studio.stars).toEqual([{ name: 'Take 2', seed: 2, kept: take.kept }]);
    expect(auditions.isKept(take)).toBe(true);
    auditions.toggleKept(take, 'Take 2');
    expect(studio.stars).toEqual([]);
  });
});

describe('using a take', () => {
  it('is one step of the history that can be undone', () => {
    const { auditions, answer, studio, source } = page();
    const before = studio.study;
    auditions.begin();
    answer(3);
    const take = auditions.takes[2]!;
    expect(auditions.isUsed(take)).toBe(false);
    auditions.use(take);
    expect(studio.study).toMatchObject({ seed: 4, kept: take.kept });
    expect(source.asks.at(-1)?.kept).toEqual(take.kept);
    source.answer(4);
    expect([auditions.isUsed(take), auditions.isStale]).toEqual([true, false]);
    studio.undo();
    expect(studio.study).toBe(before);
    expect(studio.canUndo).toBe(false);
  });

  it('leaves bars as they are that are held', () => {
    const { auditions, answer, studio } = page();
    studio.toggleLocked({ from: barIndex(1), to: barIndex(1) });
    auditions.begin();
    answer(1);
    auditions.use(auditions.takes[0]!);
    expect(studio.locked).toEqual([2]);
  });
});

describe('two takes on the sheet', () => {
  const laid = () => {
    const desk = page();
    const beside = new Beside(desk.studio, new HandSource().connect);
    const sheet = new AuditionSheet(desk.studio, beside);
    desk.auditions.begin();
    desk.answer(2);
    const [mine, other] = desk.auditions.takes;
    return { ...desk, beside, sheet, mine: mine!, other: other! };
  };

  it('lie one over the other, change places, and go', () => {
    const { sheet, beside, studio, mine, other } = laid();
    const own = studio.shown;
    sheet.lay({ mine, other });
    expect([studio.shown?.line, beside.line?.line]).toEqual([mine.shown.line, other.shown.line]);
    expect(studio.isAway).toBe(true);
    sheet.swap();
    expect([studio.shown?.line, beside.line?.line]).toEqual([other.shown.line, mine.shown.line]);
    sheet.leave();
    expect([studio.shown, beside.what, sheet.open]).toEqual([own, null, null]);
  });

  it('give way to a change of the study', () => {
    const { sheet, beside, studio, source, mine, other } = laid();
    sheet.lay({ mine, other });
    studio.newTake();
    source.answer(4);
    expect([sheet.open, beside.what, studio.isAway]).toEqual([null, null, false]);
  });

  it('and the one on top can be used', () => {
    const { sheet, studio, mine, other } = laid();
    sheet.lay({ mine, other });
    sheet.use();
    expect([studio.study.seed, studio.isAway, sheet.open]).toEqual([mine.seed, false, null]);
  });
});
