// The player as the page has it from its first moment: its code is fetched when the page has been painted, or when sound is
// asked for, and what was wished before is told to it then.
import type { BarIndex } from '../music';
import { playerError } from './errors';
import { changeSettings, defaultSettings } from './settings';
import type {
  Music,
  Playback,
  PlaybackSettings,
  PlayerOptions,
  PlayerStatus,
  Position,
  SwapMoment,
} from './types';

type MakePlayer = (options: PlayerOptions) => Playback;

export class LatePlayback implements Playback {
  readonly #options: PlayerOptions;
  readonly #fetch: () => Promise<MakePlayer>;
  #player: Playback | null = null;
  #arriving: Promise<Playback | null> | null = null;
  #status: PlayerStatus = { state: 'idle', substitutes: [] };
  #settings = defaultSettings;
  #music: Music | null = null;
  #queued: Music | null = null;
  /** Counts starts and stops, so that a start knows when it is no longer wanted. */
  #attempt = 0;

  /** @param fetch brings the player's code; may fail, and is then asked again by the next wish for sound */
  constructor(options: PlayerOptions, fetch: () => Promise<MakePlayer>) {
    this.#options = options;
    this.#fetch = fetch;
  }

  get status(): PlayerStatus {
    return this.#player?.status ?? this.#status;
  }

  get settings(): PlaybackSettings {
    return this.#player?.settings ?? this.#settings;
  }

  load(music: Music | null, moment?: SwapMoment): void {
    if (this.#player) this.#player.load(music, moment);
    else this.#music = music;
  }

  queue(music: Music | null): void {
    if (this.#player) this.#player.queue(music);
    else this.#queued = music;
  }

  set(change: Partial<PlaybackSettings>): void {
    if (this.#player) this.#player.set(change);
    else this.#settings = changeSettings(this.#settings, change);
  }

  async play(fromBar?: BarIndex): Promise<void> {
    const attempt = ++this.#attempt;
    // In the gesture, before anything is awaited.
    if (this.#player) return this.#player.play(fromBar);
    this.#tell({ state: 'loading', substitutes: [] });
    const player = await this.arrive();
    if (attempt !== this.#attempt) return;
    if (player) await player.play(fromBar);
    else this.#tell({ state: 'refused', error: playerError('not loaded'), substitutes: [] });
  }

  stop(): void {
    this.#attempt++;
    if (this.#player) this.#player.stop();
    else if (this.#status.state === 'loading') this.#tell({ state: 'idle', substitutes: [] });
  }

  position(): Position | null {
    return this.#player?.position() ?? null;
  }

  async testTone(): Promise<void> {
    await (this.#player ?? (await this.arrive()))?.testTone();
  }

  async prepare(): Promise<void> {
    await (await this.arrive())?.prepare();
  }

  async dispose(): Promise<void> {
    this.#attempt++;
    await this.#player?.dispose();
  }

  /** Fetches the player and tells it what was wished so far; null where it cannot be had. */
  arrive(): Promise<Playback | null> {
    this.#arriving ??= this.#fetch().then(
      (make) => {
        const player = make(this.#options);
        player.set(this.#settings);
        if (this.#music) player.load(this.#music);
        if (this.#queued) player.queue(this.#queued);
        this.#player = player;
        // It holds them from now on.
        this.#music = this.#queued = null;
        return player;
      },
      () => {
        this.#arriving = null;
        return null;
      },
    );
    return this.#arriving;
  }

  #tell(status: PlayerStatus): void {
    this.#status = status;
    this.#options.onStatus?.(status);
  }
}

/** @param painted the page has been painted: from then on the player is fetched unasked */
export function makePlayback(options: PlayerOptions, painted: Promise<unknown>): Playback {
  const playback = new LatePlayback(options, async () => (await import('./tone')).makePlayer);
  void painted.then(() => playback.arrive());
  return playback;
}
