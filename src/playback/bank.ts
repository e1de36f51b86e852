// The sounds of the band: sample files fetched, decoded and cut to their onsets, or computed where a file cannot be had.
import sampleData from '../../shared/rhythm/samples.json' with { type: 'json' };
import { cutToOnset } from './onset';
import { drumWithoutSample, substituteNote } from './substitutes';
import type { ToneKind } from './string/figures';
import type { StringSource } from './strings';
import { drumSounds, type BassSound, type DrumSound, type Part } from './types';

/** Sounds by MIDI number or by drum sound, each with its onset at its first sample. */
export interface Bank {
  readonly bass: ReadonlyMap<number, AudioBuffer>;
  readonly chords: ReadonlyMap<number, AudioBuffer>;
  readonly drums: ReadonlyMap<DrumSound, AudioBuffer>;
  /** The computed bass, null where a sampled one plays. */
  readonly strings: StringSource<AudioBuffer> | null;
  /** Parts that have computed sounds. */
  readonly substitutes: readonly Part[];
}

/** Bytes of the sample files by name; a file that could not be had is missing. */
export type SampleFiles = ReadonlyMap<string, ArrayBuffer>;

/** Files that are needed together, as the sample table names them. */
export type Group = 'bass' | 'electric bass' | 'drums' | 'chords';

/** The files of a bass; null for a computed one. */
const bassGroups: Readonly<Record<BassSound, Group | null>> = {
  upright: null,
  electric: null,
  'sampled upright': 'bass',
  'sampled electric': 'electric bass',
};

/** The strings that a bass is computed from; null for a sampled one. */
export const toneOfSound = (sound: BassSound): ToneKind | null =>
  sound === 'upright' || sound === 'electric' ? sound : null;

/** What playing needs with this bass. */
export function groupsFor(bassSound: BassSound): readonly Group[] {
  const group = bassGroups[bassSound];
  return group ? [group, 'drums', 'chords'] : ['drums', 'chords'];
}

const fetchTime = 10_000;

const rowsOf = (group: Group): readonly { readonly file: string; readonly name: number | string }[] =>
  sampleData.samples.filter((row) => row.part === group);

/** Names of all sample files. */
export const sampleFiles: readonly string[] = sampleData.samples.map((row) => row.file);

/** Fetches the files of a group; one that fails is left out. `folder` ends with a slash. */
export async function fetchGroup(folder: string, group: Group): Promise<SampleFiles> {
  const files = new Map<string, ArrayBuffer>();
  const fetchOne = async (file: string): Promise<void> => {
    try {
      const answer = await fetch(folder + file, { signal: AbortSignal.timeout(fetchTime) });
      if (answer.ok) files.set(file, await answer.arrayBuffer());
    } catch {
      // Left out: the bank puts a computed sound in its place and says so.
    }
  };
  await Promise.all(rowsOf(group).map(({ file }) => fetchOne(file)));
  return files;
}

/** Fetches all that playing with a bass needs. */
export async function fetchSamples(folder: string, bassSound: BassSound): Promise<SampleFiles> {
  const groups = await Promise.all(groupsFor(bassSound).map((group) => fetchGroup(folder, group)));
  return new Map(groups.flatMap((files) => [...files]));
}

/** A mono sound as the browser plays it. */
export function bufferOf(samples: Float32Array, sampleRate: number): AudioBuffer {
  const buffer = new AudioBuffer({ length: Math.max(1, samples.length), numberOfChannels: 1, sampleRate });
  buffer.getChannelData(0).set(samples);
  return buffer;
}

/** A decoded sample from its onset on; null when the file is missing or cannot be decoded. */
async function decode(
  context: BaseAudioContext,
  bytes: ArrayBuffer | undefined,
): Promise<AudioBuffer | null> {
  if (!bytes) return null;
  try {
    // Decoding takes the bytes away, and they may be needed for another context.
    const decoded = await context.decodeAudioData(bytes.slice(0));
    return bufferOf(cutToOnset(decoded.getChannelData(0), decoded.sampleRate), decoded.sampleRate);
  } catch {
    return null;
  }
}

interface Decoded<Name> {
  readonly buffers: ReadonlyMap<Name, AudioBuffer>;
  readonly isComplete: boolean;
}

async function decodeGroup<Name>(
  context: BaseAudioContext,
  files: SampleFiles,
  group: Group,
  nameOf: (name: number | string) => Name,
): Promise<Decoded<Name>> {
  const rows = rowsOf(group);
  const decoded = await Promise.all(rows.map((row) => decode(context, files.get(row.file))));
  const pairs = rows.flatMap((row, i) => {
    const buffer = decoded[i];
    return buffer ? [[nameOf(row.name), buffer] as const] : [];
  });
  return { buffers: new Map(pairs), isComplete: pairs.length === rows.length };
}

/** Computed notes in place of all sampled ones: strings of two kinds beside each other would be worse. */
const computedNotes = (group: Group, sampleRate: number): ReadonlyMap<number, AudioBuffer> =>
  new Map(
    rowsOf(group).map(({ name }) => {
      const midi = Number(name);
      return [midi, bufferOf(substituteNote(midi, sampleRate), sampleRate)];
    }),
  );

const drumName = (name: number | string): DrumSound =>
  drumSounds.find((sound) => sound === name) ?? 'side stick';

const noNotes: Decoded<number> = { buffers: new Map(), isComplete: true };

/**
 * Decodes what was fetched, and computes what was not.
 * @param strings where a computed bass has its sounds from
 */
export async function makeBank(
  context: BaseAudioContext,
  files: SampleFiles,
  bassSound: BassSound,
  strings: StringSource<AudioBuffer> | null,
): Promise<Bank> {
  const { sampleRate } = context;
  const bassGroup = bassGroups[bassSound];
  const [bass, chords, drums] = await Promise.all([
    bassGroup ? decodeGroup(context, files, bassGroup, Number) : noNotes,
    decodeGroup(context, files, 'chords', Number),
    decodeGroup(context, files, 'drums', drumName),
  ]);
  const drumBuffers = drumSounds.map((sound): readonly [DrumSound, AudioBuffer] => [
    sound,
    drums.buffers.get(sound) ?? bufferOf(drumWithoutSample(sound, sampleRate), sampleRate),
  ]);
  const substitutes: Part[] = [];
  if (!bass.isComplete) substitutes.push('bass');
  if (!drums.isComplete) substitutes.push('cymbal', 'hi-hat', 'drums', 'click');
  if (!chords.isComplete) substitutes.push('chords');
  return {
    bass: bass.isComplete || !bassGroup ? bass.buffers : computedNotes(bassGroup, sampleRate),
    chords: chords.isComplete ? chords.buffers : computedNotes('chords', sampleRate),
    drums: new Map(drumBuffers),
    strings: bassGroup ? null : strings,
    substitutes,
  };
}
