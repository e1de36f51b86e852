// A band on paper: what the conductor hands over is written down with its time.
import { bpm, type BarIndex } from '../../src/music';
import { makeSchedule, type Part, type PlaybackEvent, type PlaybackSettings } from '../../src/playback';
import { Conductor, type Sink } from '../../src/playback/conductor';
import { musicOf, settingsWith, swingBlues, type Moment } from './fixtures';

export interface Heard {
  readonly what: 'strike' | 'damp';
  readonly part: Part;
  readonly time: number;
  readonly event: PlaybackEvent | null;
}

/** A band on paper. */
export class Paper implements Sink {
  readonly heard: Heard[] = [];
  strike(event: PlaybackEvent, time: number): void {
    this.heard.push({ what: 'strike', part: event.part, time, event });
  }
  damp(part: Part, time: number): void {
    this.heard.push({ what: 'damp', part, time, event: null });
  }
  get bass(): { tick: number; time: number }[] {
    return this.heard.flatMap(({ event, time }) =>
      event?.part === 'bass' ? [{ tick: event.tick, time }] : [],
    );
  }
}

export const music = musicOf(swingBlues);
export const lookAhead = 0.15;
export const startAt = 1;
export const tempo120 = bpm(120);
/** Seconds of a beat and a bar at 120. */
export const beat = 0.5;
export const bar = 4 * beat;

export interface Deed {
  readonly at: number;
  readonly act: (conductor: Conductor) => void;
}

/** Plays until a time in small, uneven steps, as a page's timer does. */
export function run(
  settings: Partial<PlaybackSettings>,
  until: number,
  deeds: readonly Deed[] = [],
  onPass?: (pass: number, conductor: Conductor) => void,
  fromBar?: BarIndex,
): { paper: Paper; conductor: Conductor } {
  const paper = new Paper();
  const wishes = settingsWith(settings);
  const schedule = makeSchedule(music, wishes, fromBar);
  const conductor: Conductor = new Conductor(schedule, wishes.tempo, startAt, paper, (pass) =>
    onPass?.(pass, conductor),
  );
  const waiting = [...deeds].sort((a, b) => a.at - b.at);
  for (let now = startAt - 0.1, step = 0; now < until; step++) {
    while (waiting[0] && waiting[0].at <= now) waiting.shift()!.act(conductor);
    conductor.advance(now + lookAhead);
    now += 0.02 + (step % 3) * 0.007;
  }
  return { paper, conductor };
}

export const replaceBy =
  (settings: Partial<PlaybackSettings>, moment: 'next beat' | 'next bar' | 'next pass', moments?: Moment[]) =>
  (conductor: Conductor): void => {
    const next = moments ? musicOf(swingBlues, moments) : music;
    conductor.replace(makeSchedule(next, settingsWith(settings)), moment);
  };
