// The player before its code is there: nothing that is wished meanwhile is lost, and a start that is called off stays off.
import { describe, expect, it } from 'vitest';
import { barIndex, bpm, millimetres } from '../../src/music';
import { LatePlayback } from '../../src/playback/late';
import { defaultSettings } from '../../src/playback/settings';
import type { Music, Playback, PlayerStatus } from '../../src/playback';

/** A player that writes down what it is told. */
class ToldPlayback implements Playback {
  readonly told: string[] = [];
  readonly status: PlayerStatus = { state: 'ready', substitutes: [] };
  settings = defaultSettings;
  load = (music: Music | null): void => void this.told.push(`load ${music?.stringLength ?? 'nothing'}`);
  queue = (music: Music | null): void => void this.told.push(`queue ${music?.stringLength ?? 'nothing'}`);
  set: Playback['set'] = (change) => {
    this.settings = { ...this.settings, ...change };
    this.told.push(`tempo ${this.settings.tempo}`);
  };
  stop = (): void => void this.told.push('stop');
  position = () => null;
  play: Playback['play'] = (from) => Promise.resolve(void this.told.push(`play ${from ?? 'top'}`));
  testTone = () => Promise.resolve(void this.told.push('tone'));
  prepare = () => Promise.resolve(void this.told.push('prepare'));
  dispose = () => Promise.resolve(void this.told.push('dispose'));
}

const musicOf = (stringLength: number): Music => ({
  notes: [],
  timeline: {} as Music['timeline'],
  stringLength: millimetres(stringLength),
});

function late() {
  const player = new ToldPlayback();
  const statuses: string[] = [];
  let arrive: (isThere: boolean) => void = () => undefined;
  let fetches = 0;
  const playback = new LatePlayback(
    { samples: './', onStatus: (status) => void statuses.push(status.state) },
    () => {
      fetches++;
      return new Promise((resolve, reject) => {
        arrive = (isThere) => (isThere ? resolve(() => player) : reject(new Error('offline')));
      });
    },
  );
  const settled = (): Promise<void> => new Promise((resolve) => setTimeout(resolve));
  return { playback, player, statuses, settled, fetches: () => fetches, arrive: (is: boolean) => arrive(is) };
}

describe('a player that is not there yet', () => {
  it('is told the last of what was wished, once, before it plays', async () => {
    const { playback, player, arrive } = late();
    playback.load(musicOf(1));
    playback.load(musicOf(2));
    playback.queue(musicOf(3));
    playback.set({ tempo: bpm(90) });
    playback.set({ tempo: bpm(144) });
    expect(playback.settings.tempo).toBe(144);
    expect(playback.position()).toBeNull();
    const playing = playback.play(barIndex(4));
    arrive(true);
    await playing;
    expect(player.told).toEqual(['tempo 144', 'load 2', 'queue 3', 'play 4']);
  });

  it('says that it is loading, and after a stop plays nothing', async () => {
    const { playback, player, statuses, arrive } = late();
    const playing = playback.play();
    expect(statuses).toEqual(['loading']);
    playback.stop();
    arrive(true);
    await playing;
    expect(statuses).toEqual(['loading', 'idle']);
    expect(player.told.filter((one) => one.startsWith('play'))).toEqual([]);
  });

  it('plays the last start of several', async () => {
    const { playback, player, arrive } = late();
    const both = [playback.play(barIndex(1)), playback.play(barIndex(2))];
    arrive(true);
    await Promise.all(both);
    expect(player.told.filter((one) => one.startsWith('play'))).toEqual(['play 2']);
  });

  it('says why there is no sound where its code cannot be had, and asks again at the next press', async () => {
    const { playback, player, arrive, fetches } = late();
    const playing = playback.play();
    arrive(false);
    await playing;
    expect(playback.status).toMatchObject({ state: 'refused', error: { code: 'not loaded' } });
    const again = playback.play();
    arrive(true);
    await again;
    expect(fetches()).toBe(2);
    expect(player.told.at(-1)).toBe('play top');
  });
});

it('hands everything on once it is there, at once', async () => {
  const { playback, player, arrive, settled, fetches } = late();
  const preparing = playback.prepare();
  arrive(true);
  await preparing;
  player.told.length = 0;
  playback.load(musicOf(7));
  playback.queue(null);
  playback.set({ tempo: bpm(100) });
  void playback.play();
  // In the gesture: nothing is awaited before.
  expect(player.told).toEqual(['load 7', 'queue nothing', 'tempo 100', 'play top']);
  playback.stop();
  await playback.testTone();
  await playback.dispose();
  await settled();
  expect(player.told.slice(4)).toEqual(['stop', 'tone', 'dispose']);
  expect(playback.status).toBe(player.status);
  expect(fetches()).toBe(1);
});
