import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import type {
  Music,
  Playback,
  PlaybackSettings,
  PlayerOptions,
  PlayerStatus,
  Position,
} from '../../src/playback';
import { newStudy } from '../../src/state/document';
import { Notices } from '../../src/state/notices.svelte';
import { Playing } from '../../src/state/playing.svelte';
import { Settings } from '../../src/state/settings.svelte';
import { Studio } from '../../src/state/studio.svelte';
import { HandExplainer, HandSource } from './fixtures';

/** A player by hand: it keeps what it is told and is where the test says. */
class HandPlayback implements Playback {
  status: PlayerStatus = { state: 'idle', substitutes: [] };
  readonly told: Partial<PlaybackSettings>[] = [];
  music: Music | null = null;
  place: Position | null = null;
  startedAt: number | undefined;
  constructor(readonly options: Pick<PlayerOptions, 'onStatus' | 'onPass'>) {}

  get settings(): PlaybackSettings {
    return Object.assign({}, ...this.told) as PlaybackSettings;
  }
  load(music: Music | null): void {
    this.music = music;
  }
  set(change: Partial<PlaybackSettings>): void {
    this.told.push(change);
  }
  play(fromBar?: number): Promise<void> {
    this.startedAt = fromBar;
    this.become({ state: 'playing', substitutes: [] });
    return Promise.resolve();
  }
  stop(): void {
    this.become({ state: 'ready', substitutes: [] });
  }
  position(): Position | null {
    return this.place;
  }
  prepare(): Promise<void> {
    return Promise.resolve();
  }
  dispose(): Promise<void> {
    return Promise.resolve();
  }
  become(status: PlayerStatus): void {
    this.status = status;
    this.options.onStatus?.(status);
  }
}

const at = (noteIndex: number, pass = 0): Position => ({
  tick: noteIndex * 480,
  bar: Math.floor(noteIndex / 4),
  chorus: 0,
  noteIndex,
  pass,
  countIn: null,
});

function bench() {
  const source = new HandSource();
  const explainer = new HandExplainer();
  const studio = new Studio({
    study: newStudy('| F7 |'),
    connect: source.connect,
    connectExplainer: explainer.connect,
    now: () => 0,
  });
  const settings = new Settings(null);
  const notices = new Notices();
  let playback: HandPlayback | undefined;
  const frames: (() => void)[] = [];
  let now = 0;
  let awake = 0;
  const playing = new Playing({
    studio,
    settings,
    notices,
    makePlayback: (options) => (playback = new HandPlayback(options)),
    nextFrame: (frame) => {
      frames.push(frame);
      return () => void frames.splice(frames.indexOf(frame), 1);
    },
    now: () => now,
    keepAwake: () => {
      awake++;
      return () => awake--;
    },
  });
  if (!playback) throw new Error('no player was made');
  const stop = playing.connect();
  source.answer(4);
  flushSync();
  return {
    studio,
    source,
    settings,
    notices,
    playing,
    playback,
    stop,
    frame: () => frames.shift()?.(),
    frames,
    isAwake: () => awake > 0,
    wait: (time: number) => (now += time),
  };
}

describe('playing', () => {
  it('hands the player every new line and every setting', () => {
    const { playback, studio, settings, source, stop } = bench();
    expect(playback.music?.notes).toHaveLength(16);
    expect(playback.settings).toMatchObject({ tempo: 132, swing: 'by tempo', loop: 'form', countInBars: 1 });
    studio.setTempo(90);
    settings.change({ swing: 2 });
    studio.setBars({ from: 1, to: 2 });
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
    const { playback, playing, studio, stop } = bench();
    await playing.play();
    expect(playback.startedAt).toBeUndefined();
    studio.select(9);
    await playing.play();
    expect(playback.startedAt).toBe(2);
    studio.setBars({ from: 1, to: 3 });
    await playing.play();
    expect(playback.startedAt).toBe(1);
    stop();
  });

  it('follows the sound frame by frame and wakes views only when the note changes', async () => {
    const { playback, playing, frame, frames, isAwake, stop } = bench();
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
    const { notices, playing, playback, frame, stop } = bench();
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

  it('rises in tempo and brings new takes each time round, when asked', async () => {
    const { playback, playing, settings, studio, stop } = bench();
    await playing.play();
    playback.options.onPass?.(1);
    expect([playing.tempo, studio.study.seed]).toEqual([132, 1]);
    settings.change({ speedUp: 5, eachPass: 'new take' });
    playback.options.onPass?.(2);
    playback.options.onPass?.(3);
    flushSync();
    expect([playing.tempo, studio.study.seed]).toEqual([142, 3]);
    expect(playback.settings.tempo).toBe(142);
    playing.stop();
    flushSync();
    expect(playing.tempo).toBe(132);
    expect(studio.study.tempo).toBeNull();
    stop();
  });

  it('suggests a break after 25 minutes of playing, once, unless it is unwanted', async () => {
    const { playing, notices, settings, wait, stop } = bench();
    const play = async (minutes: number): Promise<void> => {
      await playing.play();
      wait(minutes * 60_000);
      playing.stop();
    };
    await play(20);
    wait(60 * 60_000);
    expect(notices.list).toEqual([]);
    await play(6);
    expect(notices.list.map(({ message }) => message.code)).toEqual(['break']);
    notices.dismiss(notices.list[0]?.id ?? 0);
    settings.change({ breakReminder: false });
    await play(30);
    expect(notices.list).toEqual([]);
    stop();
  });
});
