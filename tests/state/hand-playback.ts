// A player for tests of the state.
import type {
  Music,
  Playback,
  PlaybackSettings,
  PlayerOptions,
  PlayerStatus,
  Position,
} from '../../src/playback';

/** A player by hand: it keeps what it is told and is where the test says. */
export class HandPlayback implements Playback {
  status: PlayerStatus = { state: 'idle', substitutes: [] };
  readonly told: Partial<PlaybackSettings>[] = [];
  music: Music | null = null;
  queued: Music | null = null;
  place: Position | null = null;
  startedAt: number | undefined;
  constructor(readonly options: Pick<PlayerOptions, 'onStatus' | 'onPass'>) {}

  get settings(): PlaybackSettings {
    return Object.assign({}, ...this.told) as PlaybackSettings;
  }
  load(music: Music | null): void {
    this.music = music;
  }
  queue(music: Music | null): void {
    this.queued = music;
  }
  /** The music comes round: what is queued plays from now on. */
  comeRound(pass: number): void {
    const isQueued = this.queued !== null;
    this.queued = null;
    this.options.onPass?.(pass, isQueued);
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
  tones = 0;
  testTone(): Promise<void> {
    this.tones++;
    return Promise.resolve();
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
