// The recorded sounds of the program, decoded by a browser, for the bench.
import { readFileSync } from 'node:fs';
import { chromium } from 'playwright';
import { findChromium } from '../../src/build/chromium.mjs';
import { cutToOnset } from '../../src/playback/onset';
import { nearestKey } from '../../src/playback/voice';
import sampleTable from '../../shared/rhythm/samples.json' with { type: 'json' };

const rate = 44_100;

/** A sample as the table names it: the part it is for, and its note or drum. */
export interface Recorded {
  readonly part: string;
  readonly name: string | number;
  readonly samples: Float32Array;
}

/** All samples, from their onset on. Null without a browser. */
export async function recordedSounds(): Promise<readonly Recorded[] | null> {
  const executablePath = findChromium();
  if (!executablePath) return null;
  const browser = await chromium.launch({
    executablePath,
    args: ['--headless=new', '--no-sandbox', '--disable-gpu'],
  });
  const page = await browser.newPage();
  const sounds: Recorded[] = [];
  for (const { file, part, name } of sampleTable.samples) {
    const bytes = readFileSync(new URL(`../../static/samples/${file}`, import.meta.url)).toString('base64');
    const values = await page.evaluate(
      async ([text, sampleRate]) => {
        const data = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
        const buffer = await new OfflineAudioContext(1, 1, sampleRate).decodeAudioData(data.buffer);
        return [...buffer.getChannelData(0)];
      },
      [bytes, rate] as const,
    );
    sounds.push({ part, name, samples: cutToOnset(Float32Array.from(values), rate) });
  }
  await browser.close();
  return sounds;
}

/** The sounds of a part by their names as numbers. */
export const notesOf = (sounds: readonly Recorded[], part: string): ReadonlyMap<number, Float32Array> =>
  new Map(sounds.filter((one) => one.part === part).map(({ name, samples }) => [Number(name), samples]));

/** Gives a note as the sampled bass plays it: the nearest recorded one, read faster or slower. */
export function recordedNote(sounds: readonly Recorded[]): (midi: number) => Float32Array {
  const notes = notesOf(sounds, 'bass');
  return (midi) => {
    const key = nearestKey([...notes.keys()], midi)!;
    const sound = notes.get(key)!;
    const step = 2 ** ((midi - key) / 12);
    return Float32Array.from({ length: Math.floor((sound.length - 1) / step) }, (_, i) => {
      const whole = Math.floor(i * step);
      return sound[whole]! + (i * step - whole) * (sound[whole + 1]! - sound[whole]!);
    });
  };
}
