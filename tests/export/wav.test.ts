// RIFF/WAVE as laid down in "Multimedia Programming Interface and Data Specifications 1.0", IBM and Microsoft, August 1991.
import { describe, expect, it } from 'vitest';
import { wavFile } from '../../src/export';

const text = (bytes: Uint8Array, at: number): string => String.fromCharCode(...bytes.subarray(at, at + 4));

describe('a WAV file', () => {
  it('has the header of the specification, every field, and nothing after its data', () => {
    const bytes = wavFile([new Float32Array(1001)], 44_100);
    const view = new DataView(bytes.buffer);
    expect([0, 8, 12, 36].map((at) => text(bytes, at))).toEqual(['RIFF', 'WAVE', 'fmt ', 'data']);
    expect(view.getUint32(4, true)).toBe(bytes.length - 8);
    expect(view.getUint32(16, true)).toBe(16);
    // Linear PCM, one channel, frames a second, bytes a second, bytes a frame, bits a sample.
    expect(view.getUint16(20, true)).toBe(1);
    expect(view.getUint16(22, true)).toBe(1);
    expect(view.getUint32(24, true)).toBe(44_100);
    expect(view.getUint32(28, true)).toBe(88_200);
    expect(view.getUint16(32, true)).toBe(2);
    expect(view.getUint16(34, true)).toBe(16);
    expect(view.getUint32(40, true)).toBe(2002);
    expect(bytes).toHaveLength(44 + 2002);
  });

  it('holds the samples, to half a step, and clips what is beyond', () => {
    const samples = Float32Array.from([0, 0.5, -0.5, 1, -1, 1.7, -3, 1 / 3]);
    const view = new DataView(wavFile([samples], 8000).buffer, 44);
    const read = [...samples.keys()].map((i) => view.getInt16(2 * i, true) / 0x7fff);
    [0, 0.5, -0.5, 1, -1, 1, -1, 1 / 3].forEach((wanted, i) => {
      expect(Math.abs(read[i]! - wanted)).toBeLessThanOrEqual(0.5 / 0x7fff + 1e-9);
    });
  });

  it('of two sides holds them frame by frame, left first', () => {
    const bytes = wavFile([Float32Array.from([0.5, -0.5]), Float32Array.from([0.25, 1])], 8000);
    const view = new DataView(bytes.buffer);
    // Two channels, bytes a second, bytes a frame, bytes of data.
    expect([view.getUint16(22, true), view.getUint32(28, true), view.getUint16(32, true)]).toEqual([
      2, 32_000, 4,
    ]);
    expect(view.getUint32(40, true)).toBe(8);
    expect([0, 1, 2, 3].map((i) => Math.round((100 * view.getInt16(44 + 2 * i, true)) / 0x7fff))).toEqual([
      50, 25, -50, 100,
    ]);
  });

  it('of no sound is a header', () => {
    expect(wavFile([new Float32Array()], 44_100)).toHaveLength(44);
  });
});
