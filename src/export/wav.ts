// Sound as a file: RIFF/WAVE with 16-bit linear PCM, as laid down in "Multimedia Programming Interface and Data
// Specifications 1.0", IBM and Microsoft, August 1991 (chunks "fmt " and "data"; little-endian throughout).

const headerBytes = 44;
const formatBytes = 16;
const linearPcm = 1;
const bytesPerSample = 2;
const loudest = 0x7fff;

function writeText(view: DataView, at: number, text: string): void {
  for (let i = 0; i < text.length; i++) view.setUint8(at + i, text.charCodeAt(i));
}

/**
 * A WAV file.
 * @param channels one of mono sound, or left and right, equally long; -1 to 1, what goes beyond is clipped
 * @param sampleRate frames a second, a whole number
 */
export function wavFile(channels: readonly Float32Array[], sampleRate: number): Uint8Array {
  const frameBytes = channels.length * bytesPerSample;
  const dataBytes = (channels[0]?.length ?? 0) * frameBytes;
  const bytes = new Uint8Array(headerBytes + dataBytes);
  const view = new DataView(bytes.buffer);
  writeText(view, 0, 'RIFF');
  // The size counts what follows it.
  view.setUint32(4, headerBytes - 8 + dataBytes, true);
  writeText(view, 8, 'WAVE');
  writeText(view, 12, 'fmt ');
  view.setUint32(16, formatBytes, true);
  view.setUint16(20, linearPcm, true);
  view.setUint16(22, channels.length, true);
  view.setUint32(24, sampleRate, true);
  view.setUint32(28, sampleRate * frameBytes, true);
  view.setUint16(32, frameBytes, true);
  view.setUint16(34, 8 * bytesPerSample, true);
  writeText(view, 36, 'data');
  view.setUint32(40, dataBytes, true);
  channels.forEach((samples, channel) => {
    const first = headerBytes + channel * bytesPerSample;
    samples.forEach((sample, i) => {
      const within = Math.min(1, Math.max(-1, sample));
      view.setInt16(first + i * frameBytes, Math.round(within * loudest), true);
    });
  });
  return bytes;
}
