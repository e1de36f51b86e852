// Makes static/samples and shared/rhythm/samples.json again: `node src/build/samples/make-samples.mjs`.
// Needs Debian's packages fluidsynth, fluid-soundfont-gm and lame (`apt-get install fluidsynth fluid-soundfont-gm lame`).
// The same versions give the same bytes: nothing here depends on the clock or on chance.
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { writeMidi } from 'midi-file';
import prettier from 'prettier';
import { sounds } from './sounds.mjs';

const root = fileURLToPath(new URL('../../..', import.meta.url));
const soundfont = process.env.SOUNDFONT ?? '/usr/share/sounds/sf2/FluidR3_GM.sf2';
const copyright = '/usr/share/doc/fluid-soundfont-gm/copyright';
const rate = 44_100;
const ticksPerSecond = 960; // 480 to a quarter at 120 a minute
const lead = 0.1;
/** A sound begins where it first reaches this share of its peak; the player finds the same place after decoding. */
const onsetShare = 0.1;
/** Kept before the onset, so that the encoder has a rise to work with. */
const keptBefore = 0.002;
const loudestPeak = 10 ** (-1 / 20);

const work = mkdtempSync(join(tmpdir(), 'ramble-samples-'));

/** One note played by the soundfont, dry, as mono samples. */
function render({ channel, program, note, held }) {
  const at = (seconds) => Math.round(seconds * ticksPerSecond);
  const track = [
    { deltaTime: 0, type: 'setTempo', microsecondsPerBeat: 500_000 },
    { deltaTime: 0, type: 'programChange', channel, programNumber: program },
    { deltaTime: at(lead), type: 'noteOn', channel, noteNumber: note, velocity: 100 },
    { deltaTime: at(held), type: 'noteOff', channel, noteNumber: note, velocity: 0 },
    { deltaTime: at(0.2), type: 'endOfTrack' },
  ];
  const midi = join(work, 'note.mid');
  const raw = join(work, 'note.raw');
  const header = { format: 0, numTracks: 1, ticksPerBeat: 480 };
  writeFileSync(midi, Uint8Array.from(writeMidi({ header, tracks: [track] })));
  const options = ['-n', '-i', '-q', '-R', '0', '-C', '0', '-g', '1', '-r', String(rate)];
  execFileSync('fluidsynth', [...options, '-O', 'float', '-T', 'raw', '-F', raw, soundfont, midi], {
    stdio: ['ignore', 'ignore', 'inherit'],
  });
  const bytes = readFileSync(raw);
  const stereo = new Float32Array(bytes.buffer, bytes.byteOffset, bytes.length / 4);
  return Float32Array.from({ length: stereo.length / 2 }, (_, i) => (stereo[2 * i] + stereo[2 * i + 1]) / 2);
}

const peakOf = (samples) => samples.reduce((most, value) => Math.max(most, Math.abs(value)), 0);

function onsetOf(samples) {
  const threshold = onsetShare * peakOf(samples);
  return samples.findIndex((value) => Math.abs(value) >= threshold);
}

function rmsOf(samples) {
  return Math.sqrt(samples.reduce((sum, value) => sum + value * value, 0) / samples.length);
}

/** Cut to length around the onset, faded at both ends, at the loudness asked for; never clipped. */
function shape(samples, { seconds, loudness, window }) {
  const before = Math.round(keptBefore * rate);
  const start = onsetOf(samples) - before;
  const cut = samples.slice(start, start + before + Math.round(seconds * rate));
  const fadeOut = Math.round(0.15 * seconds * rate);
  const measured = rmsOf(cut.subarray(before, before + Math.round(window * rate)));
  const gain = Math.min(10 ** (loudness / 20) / measured, loudestPeak / peakOf(cut));
  return cut.map((value, i) => {
    const rise = Math.min(1, i / before);
    const left = Math.min(1, (cut.length - i) / fadeOut);
    return value * gain * rise * left * left;
  });
}

/** A 16-bit mono WAV file. */
function wav(samples) {
  const bytes = Buffer.alloc(44 + samples.length * 2);
  bytes.write('RIFF', 0);
  bytes.writeUInt32LE(36 + samples.length * 2, 4);
  bytes.write('WAVEfmt ', 8);
  bytes.writeUInt32LE(16, 16);
  bytes.writeUInt16LE(1, 20);
  bytes.writeUInt16LE(1, 22);
  bytes.writeUInt32LE(rate, 24);
  bytes.writeUInt32LE(rate * 2, 28);
  bytes.writeUInt16LE(2, 32);
  bytes.writeUInt16LE(16, 34);
  bytes.write('data', 36);
  bytes.writeUInt32LE(samples.length * 2, 40);
  samples.forEach((value, i) => bytes.writeInt16LE(Math.round(value * 32_767), 44 + i * 2));
  return bytes;
}

const rounded = (value, places) => Number(value.toFixed(places));
const decibels = (value) => rounded(20 * Math.log10(value), 1);

function make(sound) {
  const samples = shape(render(sound), sound);
  const before = Math.round(keptBefore * rate);
  const source = join(work, 'note.wav');
  const target = join(root, 'static/samples', sound.file);
  writeFileSync(source, wav(samples));
  execFileSync('lame', ['--quiet', '-m', 'm', '-q', '0', ...sound.encode, source, target]);
  return {
    file: sound.file,
    part: sound.part,
    name: sound.name,
    seconds: rounded(samples.length / rate, 4),
    onset: rounded(onsetOf(samples) / rate, 5),
    peak: decibels(peakOf(samples)),
    loudness: decibels(rmsOf(samples.subarray(before, before + Math.round(sound.window * rate)))),
  };
}

mkdirSync(join(root, 'static/samples'), { recursive: true });
const rows = sounds.map(make);
const table = {
  source:
    'Rendered from FluidR3 GM (MIT licence, static/samples/LICENSE.txt) by src/build/samples/make-samples.mjs, which also measured these figures',
  columns: {
    name: 'MIDI number of the note, or the drum sound',
    seconds: 'length before encoding',
    onset: 'seconds to the first sample at a tenth of the peak, before encoding',
    peak: 'dB below full scale',
    loudness: 'RMS after the onset (bass and chords 0.4 s, drums 0.1 s), dB below full scale',
  },
  samples: rows,
};
writeFileSync(
  join(root, 'shared/rhythm/samples.json'),
  await prettier.format(JSON.stringify(table), { parser: 'json', printWidth: 110 }),
);
const notice = readFileSync(copyright, 'utf8');
writeFileSync(
  join(root, 'static/samples/LICENSE.txt'),
  `The sounds in this folder are notes of the soundfont FluidR3 GM, rendered, cut and encoded.\n\n${notice.slice(notice.indexOf('Upstream Author'), notice.indexOf('The Debian packaging')).trimEnd()}\n`,
);
for (const part of ['bass', 'electric bass', 'drums', 'chords']) {
  const files = sounds.filter((sound) => sound.part === part);
  const bytes = files.reduce((sum, { file }) => sum + statSync(join(root, 'static/samples', file)).size, 0);
  console.log(`${part}: ${files.length} files, ${Math.round(bytes / 1000)} kB`);
}
rmSync(work, { recursive: true });
