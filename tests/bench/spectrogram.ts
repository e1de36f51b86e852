// A picture of a sound: time across, frequency up (30 Hz to 8 kHz, octaves even), 80 dB from dark to light. PNG after the
// W3C Recommendation of 2003, 8-bit grey.
import { crc32, deflateSync } from 'node:zlib';
import { transform } from '../../src/playback/fourier';

const size = 8192;
const [lowest, octaves, perOctave] = [30, 8, 48];
const range = 80;

function chunk(name: string, data: Uint8Array): Buffer {
  const body = Buffer.concat([Buffer.from(name, 'latin1'), data]);
  const [length, sum] = [Buffer.alloc(4), Buffer.alloc(4)];
  length.writeUInt32BE(data.length);
  sum.writeUInt32BE(crc32(body));
  return Buffer.concat([length, body, sum]);
}

function greyPng(rows: readonly Uint8Array[]): Buffer {
  const head = Buffer.alloc(13);
  head.writeUInt32BE(rows[0]!.length, 0);
  head.writeUInt32BE(rows.length, 4);
  head[8] = 8;
  const data = Buffer.concat(rows.map((row) => Buffer.concat([Buffer.from([0]), row])));
  return Buffer.concat([
    Buffer.from([137, 80, 78, 71, 13, 10, 26, 10]),
    chunk('IHDR', head),
    chunk('IDAT', deflateSync(data)),
    chunk('IEND', new Uint8Array()),
  ]);
}

/** The bytes of a picture. */
export function spectrogram(samples: Float32Array, sampleRate: number): Buffer {
  const width = Math.min(1200, Math.ceil(samples.length / 512));
  const hop = samples.length / width;
  const height = octaves * perOctave;
  const levels = Array.from({ length: width }, (_, column) => {
    const [real, imaginary] = [new Float64Array(size), new Float64Array(size)];
    const from = Math.round(column * hop) - size / 4;
    for (let i = 0; i < size; i++)
      real[i] = (samples[from + i] ?? 0) * (0.5 - 0.5 * Math.cos((2 * Math.PI * i) / size));
    transform(real, imaginary);
    return Array.from({ length: height }, (_, row) => {
      const bin = ((lowest * 2 ** (row / perOctave)) / sampleRate) * size;
      const near = Math.min(size / 2 - 1, Math.round(bin));
      return 10 * Math.log10(real[near]! ** 2 + imaginary[near]! ** 2 + 1e-12);
    });
  });
  const top = Math.max(...levels.map((column) => Math.max(...column)));
  const rows = Array.from({ length: height }, (_, row) =>
    Uint8Array.from(levels, (column) =>
      Math.max(0, Math.min(255, 255 * (1 + (column[height - 1 - row]! - top) / range))),
    ),
  );
  return greyPng(rows);
}
