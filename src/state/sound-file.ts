// The music as a sound file: what is chosen to go round, once through, as it is heard.
import { wavFile } from '../export';
import { renderMusic, renderRate, type Mix, type Music, type PlaybackSettings } from '../playback';
import { mixFor, type SoundWish } from './practice';

export interface SoundFileWishes {
  readonly music: Music;
  /** As they are heard now. */
  readonly settings: PlaybackSettings;
  /** Levels of the parts, also of those that are silent while another plays alone. */
  readonly mix: Mix;
  readonly what: SoundWish;
  /** Folder of the samples, with a slash at its end. */
  readonly samples: string;
  /** Told how far it is, from 0 to 1. */
  readonly onProgress: (share: number) => void;
  readonly signal: AbortSignal;
}

/** The bytes of a WAV file. Rejects when it is called off or cannot be made. */
export async function soundFile(wishes: SoundFileWishes): Promise<Uint8Array> {
  const { music, settings, mix, what, samples, onProgress, signal } = wishes;
  const heard = { ...settings, mix: mixFor(what, mix), yourTurn: false };
  const { left, right } = await renderMusic({ music, settings: heard, samples, onProgress, signal });
  return wavFile([left, right], renderRate);
}
