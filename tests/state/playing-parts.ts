// Playing with everything around it by hand: lines, frames, time and the player.
import { flushSync } from 'svelte';
import { barIndex } from '../../src/music';
import type { Position } from '../../src/playback';
import { newStudy } from '../../src/state/document';
import { Notices } from '../../src/state/notices.svelte';
import { Playing } from '../../src/state/playing.svelte';
import { PracticeLog } from '../../src/state/practice-log.svelte';
import { Settings } from '../../src/state/settings.svelte';
import { Studio } from '../../src/state/studio.svelte';
import { HandExplainer, HandSource } from './fixtures';
import { HandPlayback } from './hand-playback';

export const at = (noteIndex: number, pass = 0): Position => ({
  tick: noteIndex * 480,
  bar: barIndex(Math.floor(noteIndex / 4)),
  chorus: 0,
  noteIndex,
  pass,
  countIn: null,
  isYourTurn: false,
});

export function setUp() {
  const source = new HandSource();
  const next = new HandSource();
  const explainer = new HandExplainer();
  const log = new PracticeLog(null, () => '2030-02-28');
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
    samples: '',
    connectNext: next.connect,
    log,
    studyId: () => 'study',
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
    next,
    log,
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
