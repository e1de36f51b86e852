import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { barIndex } from '../../src/music';
import { at, setUp } from './playing-parts';

describe('playing', () => {
  it('hands the player every new line and every setting', () => {
    const { playback, studio, settings, source, stop } = setUp();
    expect(playback.music?.notes).toHaveLength(16);
    expect(playback.settings).toMatchObject({ tempo: 132, swing: 'by tempo', loop: 'form', countInBars: 1 });
    studio.set('tempo', 90);
    settings.change({ swing: 2 });
    studio.setBars({ from: barIndex(1), to: barIndex(2) });
    flushSync();
    expect(playback.settings).toMatchObject({ tempo: 90, swing: 2, loop: { from: 1, to: 2 } });
    settings.changePart('bass', { on: false });
    flushSync();
    expect(playback.settings.mix.bass).toEqual({ on: false, level: 0.8 });
    source.answer(8);
    flushSync();
    expect(playback.music?.notes).toHaveLength(32);
    stop();
  });

  it('starts at the loop, else at the bar of the selected note, else at the top', async () => {
    const { playback, playing, studio, stop } = setUp();
    await playing.play();
    expect(playback.startedAt).toBeUndefined();
    studio.select(9);
    await playing.play();
    expect(playback.startedAt).toBe(2);
    studio.setBars({ from: barIndex(1), to: barIndex(3) });
    await playing.play();
    expect(playback.startedAt).toBe(1);
    stop();
  });

  it('has words follow the light three pictures later, silence at once, and never falls behind a quick line', async () => {
    const { playback, playing, frame, stop } = setUp();
    await playing.play();
    const told = (notes: readonly (number | null)[]): (number | null)[] =>
      notes.map((note) => {
        playback.place = note === null ? { ...at(0), countIn: 1 } : at(note);
        frame();
        expect(playing.sounding).toBe(note);
        return playing.told;
      });
    expect(told([0, 0, 0, 0, 0, 1, 1, 1, 1])).toEqual([null, null, null, 0, 0, 0, 0, 0, 1]);
    // A note a picture: the words skip some and stay near.
    expect(told([2, 3, 4, 5, 6, 7, 8, 9])).toEqual([1, 1, 1, 5, 5, 5, 5, 9]);
    expect(told([null])).toEqual([null]);
    stop();
  });

  it('follows the sound frame by frame and wakes views only when the note changes', async () => {
    const { playback, playing, frame, frames, isAwake, stop } = setUp();
    const seen: (number | null)[] = [];
    const end = $effect.root(() => {
      $effect(() => {
        seen.push(playing.sounding);
      });
    });
    flushSync();
    await playing.play();
    expect(isAwake()).toBe(true);
    for (const note of [0, 0, 0, 1, 1, 2]) {
      playback.place = { ...at(note), tick: Math.random() };
      frame();
      flushSync();
    }
    expect(seen).toEqual([null, 0, 1, 2]);
    playback.place = { ...at(2), countIn: 3 };
    frame();
    flushSync();
    expect([playing.sounding, playing.countIn]).toEqual([null, 3]);
    playing.stop();
    flushSync();
    expect(playing.sounding).toBeNull();
    expect(frames).toEqual([]);
    expect(isAwake()).toBe(false);
    end();
    stop();
  });

  it('says start and stop, and nothing between', async () => {
    const { notices, playing, playback, frame, stop } = setUp();
    await playing.play();
    expect(notices.spoken).toEqual({ code: 'playing' });
    for (let note = 0; note < 8; note++) {
      playback.place = at(note);
      frame();
    }
    expect(notices.spoken).toEqual({ code: 'playing' });
    playing.stop();
    expect(notices.spoken).toEqual({ code: 'stopped' });
    expect(notices.list).toEqual([]);
    stop();
  });

  it('moves the tempo by steps from pass to pass, and leaves the study as it is', async () => {
    const { playback, playing, settings, studio, stop } = setUp();
    settings.change({ climb: { isOn: true, from: 100, to: 112, by: 5, every: 2 } });
    await playing.play();
    expect([playing.tempo, playback.settings.tempo]).toEqual([100, 100]);
    const tempi = [1, 2, 3, 4, 5, 6, 7].map((pass) => {
      playback.comeRound(pass);
      return playback.settings.tempo;
    });
    expect(tempi).toEqual([100, 105, 105, 110, 110, 112, 112]);
    expect(studio.study.tempo).toBeNull();
    playing.setTempo(90);
    playback.comeRound(8);
    flushSync();
    expect([playing.tempo, playback.settings.tempo]).toEqual([90, 90]);
    playing.stop();
    stop();
  });

  it('plays the form a number of times from the top, and ends with the last of them', async () => {
    const { playback, playing, settings, studio, frame, stop } = setUp();
    settings.change({ yourTurn: true, climb: { isOn: true, from: 100, to: 112, by: 5, every: 1 } });
    studio.select(3);
    await playing.hear(2);
    flushSync();
    expect(playback.startedAt).toBe(0);
    expect(playback.settings).toMatchObject({ loop: 'form', yourTurn: false, tempo: playing.tempo });
    expect(playing.hearing).toEqual({ time: 1, of: 2 });
    playback.comeRound(1);
    flushSync();
    expect(playback.settings).toMatchObject({ loop: 'none', yourTurn: false });
    playback.place = at(0, 1);
    frame();
    expect(playing.hearing).toEqual({ time: 2, of: 2 });
    // The music has come to its end.
    playback.stop();
    flushSync();
    expect(playing.hearing).toBeNull();
    expect(playback.settings).toMatchObject({ loop: 'form', yourTurn: true });
    stop();
  });

  it('goes on as ever when it is started by hand while it plays a number of times', async () => {
    const { playback, playing, stop } = setUp();
    await playing.hear(1);
    expect(playback.settings.loop).toBe('none');
    await playing.play();
    expect([playing.hearing, playback.settings.loop]).toEqual([null, 'form']);
    playing.stop();
    stop();
  });

  it('has the next take ready before the music comes round, and shows it when it is heard', async () => {
    const { playback, playing, settings, studio, next, source, frame, stop } = setUp();
    settings.change({ eachPass: 'new take' });
    await playing.play();
    flushSync();
    expect(next.asks.map(({ take }) => take.seed)).toEqual([2]);
    next.answer(4);
    const queued = playback.queued;
    expect(queued?.notes).toHaveLength(16);
    const loaded = playback.music;
    playback.comeRound(1);
    // Handed over a moment before it is heard: the old line is still on show.
    playback.place = at(15, 0);
    frame();
    expect(studio.study.seed).toBe(1);
    playback.place = at(0, 1);
    frame();
    flushSync();
    expect(studio.study.seed).toBe(2);
    expect(studio.shown?.line.notes).toBe(queued?.notes);
    // It came with the pass and is not put in its own place once more.
    expect(playback.music).toBe(loaded);
    expect(next.asks.map(({ take }) => take.seed)).toEqual([2, 3]);
    source.answer(4);
    flushSync();
    expect(studio.shown?.line.notes).not.toBe(queued?.notes);
    studio.undo();
    expect([studio.study.seed, studio.canUndo]).toEqual([1, false]);
    playing.stop();
    flushSync();
    expect(playback.queued).toBeNull();
    stop();
  });

  it('goes round the fourths a key a pass, and back to the own key when it stops', async () => {
    const { playback, playing, settings, studio, next, frame, stop } = setUp();
    const own = studio.shown;
    settings.change({ eachPass: 'next key' });
    await playing.play();
    flushSync();
    const keys: string[] = [];
    for (let pass = 1; pass <= 12; pass++) {
      keys.push(String(next.asks.at(-1)?.key?.tonic));
      next.answer(4);
      playback.comeRound(pass);
      playback.place = at(0, pass);
      frame();
      flushSync();
      expect(studio.isAway).toBe(true);
    }
    // Down the flats and on through the sharps (common practice: the cycle of fourths).
    expect(keys).toEqual(['Bb', 'Eb', 'Ab', 'Db', 'Gb', 'B', 'E', 'A', 'D', 'G', 'C', 'F']);
    expect([studio.study.key, studio.canUndo]).toEqual([null, false]);
    studio.pin(3);
    expect(studio.study.pins).toEqual([]);
    playing.stop();
    flushSync();
    expect(studio.shown).toBe(own);
    expect(playback.music?.notes).toBe(own?.line.notes);
    stop();
  });

  it('passes over a key in which no line is possible', async () => {
    const { playback, playing, settings, next, stop } = setUp();
    settings.change({ eachPass: 'next key' });
    await playing.play();
    flushSync();
    next.answer(null);
    expect(playback.queued).toBeNull();
    expect(next.asks.map(({ key }) => String(key?.tonic))).toEqual(['Bb', 'Eb']);
    next.answer(4);
    expect(playback.queued).not.toBeNull();
    stop();
  });

  it('asks again for the next pass when the study changes meanwhile', async () => {
    const { playback, playing, settings, studio, next, stop } = setUp();
    settings.change({ eachPass: 'new take' });
    await playing.play();
    flushSync();
    next.answer(4);
    studio.set('comfort', 2);
    flushSync();
    expect(playback.queued).toBeNull();
    expect(next.asks.at(-1)).toMatchObject({ comfort: 2, take: { seed: 2 } });
    settings.change({ eachPass: 'same take' });
    flushSync();
    next.answer(4);
    expect(playback.queued).toBeNull();
    stop();
  });

  it('starts, stops and goes on by pedal', async () => {
    const { playing, studio, stop } = setUp();
    studio.setBars({ from: barIndex(0), to: barIndex(1) });
    playing.goOn();
    await Promise.resolve();
    expect([playing.isPlaying, studio.bars]).toEqual([true, { from: 0, to: 1 }]);
    playing.goOn();
    expect(studio.bars).toEqual({ from: 2, to: 3 });
    playing.goOn();
    expect(studio.bars).toEqual({ from: 0, to: 1 });
    playing.goBack();
    expect([playing.isPlaying, studio.bars]).toEqual([false, { from: 0, to: 1 }]);
    playing.goBack();
    expect(studio.bars).toEqual({ from: 2, to: 3 });
    stop();
  });

  it('counts what was played by study, also while it goes on', async () => {
    const { playing, frame, wait, stop } = setUp();
    await playing.play();
    wait(19_000);
    frame();
    expect(playing.practised.total).toBe(0);
    wait(2_000);
    frame();
    expect(playing.practised).toEqual({ today: 21, total: 21 });
    wait(4_000);
    playing.stop();
    wait(100_000);
    expect(playing.practised.total).toBe(25);
    stop();
  });

  it('suggests a break after 25 minutes of playing, once, unless it is unwanted', async () => {
    const { playing, notices, settings, wait, stop } = setUp();
    const play = async (minutes: number): Promise<void> => {
      await playing.play();
      wait(minutes * 60_000);
      playing.stop();
    };
    await play(20);
    // A pause as long as a break is one.
    wait(5 * 60_000);
    await play(20);
    expect(notices.list).toEqual([]);
    wait(60_000);
    await play(6);
    expect(notices.list.map(({ message }) => message.code)).toEqual(['break']);
    notices.dismiss(notices.list[0]?.id ?? 0);
    settings.change({ breakReminder: false });
    await play(30);
    expect(notices.list).toEqual([]);
    stop();
  });
});
