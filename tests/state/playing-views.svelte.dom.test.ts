// What playing costs the views, and what the settings of the parts make of it.
import { flushSync } from 'svelte';
import { describe, expect, it } from 'vitest';
import { Focus } from '../../src/state/focus.svelte';
import { at, setUp } from './playing-parts';

describe('playing', () => {
  it('costs views nothing on a frame without a new note, bar or count, however many there are', async () => {
    const { playback, playing, studio, frame, stop } = setUp();
    const focus = new Focus(studio, playing);
    const updates = { note: 0, bar: 0, rest: 0 };
    const end = $effect.root(() => {
      $effect(() => {
        void focus.index;
        updates.note++;
      });
      $effect(() => {
        void playing.bar;
        updates.bar++;
      });
      $effect(() => {
        void [
          playing.chorus,
          playing.countIn,
          playing.isYourTurn,
          playing.pass,
          playing.tempo,
          playing.status,
        ];
        updates.rest++;
      });
    });
    await playing.play();
    playback.place = at(0);
    frame();
    flushSync();
    const before = { ...updates };
    // Ten seconds at 60 frames a second and 96 to the minute: 16 notes, four bars.
    const framesANote = 37;
    for (let count = 0; count < 16 * framesANote; count++) {
      const note = Math.floor(count / framesANote);
      playback.place = { ...at(note), tick: (count / framesANote) * 480 };
      frame();
      flushSync();
    }
    expect(updates.note - before.note).toBe(15);
    expect(updates.bar - before.bar).toBe(3);
    expect(updates.rest - before.rest).toBe(0);
    end();
    stop();
  });

  it('is followed one thing a picture: the light, the hand, then words', async () => {
    const { playback, playing, studio, frame, stop } = setUp();
    const focus = new Focus(studio, playing);
    const seen = (): unknown => [focus.index, focus.held, focus.told];
    const picture = (note: number): unknown => {
      playback.place = at(note);
      frame();
      flushSync();
      return seen();
    };
    await playing.play();
    // The first note is followed at once: there is none before it to stay with.
    expect([0, 0, 0, 0, 0].map(picture)).toEqual(Array(5).fill([0, 0, 0]));
    expect([1, 1, 1, 1, 1, 1].map(picture)).toEqual([
      [1, 0, 0],
      [1, 1, 0],
      [1, 1, 0],
      [1, 1, 1],
      [1, 1, 1],
      [1, 1, 1],
    ]);
    playing.stop();
    flushSync();
    expect([playing.held, playing.told]).toEqual([null, null]);
    stop();
  });

  it('has one part heard alone at its own level, over its mute, and the others back as they were', () => {
    const { playback, settings, stop } = setUp();
    const heard = (): string[] =>
      Object.entries(playback.settings.mix).flatMap(([part, { on, level }]) =>
        on ? [`${part} ${level}`] : [],
      );
    const usual = heard();
    expect(usual).toHaveLength(5);
    settings.changePart('cymbal', { on: false });
    settings.change({ solo: 'click' });
    flushSync();
    expect(heard()).toEqual(['click 0.6']);
    settings.changePart('click', { level: 0.3 });
    flushSync();
    expect(heard()).toEqual(['click 0.3']);
    settings.change({ solo: null });
    settings.changePart('cymbal', { on: true });
    flushSync();
    expect(heard()).toEqual(usual);
    stop();
  });

  it('tells the player in seconds how much later the sound reaches the person', () => {
    const { playback, settings, stop } = setUp();
    expect(playback.settings.outputDelay).toBe(0);
    settings.change({ outputDelay: 180 });
    flushSync();
    expect(playback.settings.outputDelay).toBe(0.18);
    settings.change({ outputDelay: -40 });
    flushSync();
    expect(playback.settings.outputDelay).toBe(-0.04);
    stop();
  });
});
