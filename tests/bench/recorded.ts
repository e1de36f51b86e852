// The recorded notes of the program, decoded by a browser, for the bench to set beside the computed ones.
import { readFileSync } from 'node:fs';
import { chromium } from 'playwright';
import { findChromium } from '../../src/build/chromium.mjs';
import { cutToOnset } from '../../src/playback/onset';
import { nearestKey } from '../../src/playback/voice';
import sampleTable from '../../shared/rhythm/samples.json' with { type: 'json' };

const rate = 44_100;

/** Gives a note as the sampled bass plays it: the nearest recorded one, read faster or slower. Null without a browser. */
export async function recordedNotes(): Promise<((midi: number) => Float32Array) | null> {
  const executablePath = findChromium();
  if (!executablePath) return null;
  const browser = await chromium.launch({
    executablePath,
    args: ['--headless=new', '--no-sandbox', '--disable-gpu'],
  });
  const page = await browser.newPage();
  const notes = new Map<number, Float32Array>();
  for (const { file, part, name } of sampleTable.samples) {
    if (part !== 'bass') continue;
    const bytes = readFileSync(new URL(`../../static/samples/${file}`, import.meta.url)).toString('base64');
    const values = await page.evaluate(
      async ([text, sampleRate]) => {
        const data = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
        const buffer = await new OfflineAudioContext(1, 1, sampleRate).decodeAudioData(data.buffer);
        return [...buffer.getChannelData(0)];
      },
      [bytes, rate] as const,
    );
    notes.set(Number(name), cutToOnset(Float32Array.from(values), rate));
  }
  await browser.close();
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
