// A MIDI file as other programs write it, for the tests that open one.
/** A MIDI file of quarters, a track a part. */
export function midiFile(parts: Readonly<Record<string, readonly number[]>>): Buffer {
  const chunk = (name: string, data: readonly number[]): Buffer => {
    const length = Buffer.alloc(4);
    length.writeUInt32BE(data.length);
    return Buffer.concat([Buffer.from(name), length, Buffer.from(data)]);
  };
  const tracks = Object.entries(parts).map(([name, notes]) =>
    chunk('MTrk', [
      ...[0, 0xff, 3, name.length, ...Buffer.from(name)],
      ...notes.flatMap((note) => [0, 0x90, note, 80, 96, 0x80, note, 0]),
      ...[0, 0xff, 0x2f, 0],
    ]),
  );
  return Buffer.concat([chunk('MThd', [0, 1, 0, tracks.length, 0, 96]), ...tracks]);
}
