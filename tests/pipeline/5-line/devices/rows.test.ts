// The table of devices as data.
import { describe, expect, it } from 'vitest';
import corpus from '../../../../shared/checks/corpus.json' with { type: 'json' };
import { deviceIds, deviceOf, devices } from '../../../../src/pipeline';

describe('the table of devices', () => {
  it('has a row for every device, and names none twice', () => {
    expect(devices.map(({ id }) => id)).toEqual([...deviceIds]);
    expect(new Set(devices.map(({ name }) => name)).size).toBe(devices.length);
    for (const { name, source } of devices) {
      expect(name).toMatch(/^[a-z][a-z, -]+[a-z]$/);
      expect(source).not.toBe('');
    }
  });

  it.each(devices)('$id says something that can be filled in and reads as a sentence', (row) => {
    const places = [...row.sentence.matchAll(/\{(\w+)\}/g)].map(([, place]) => place);
    expect(row.sentence).toMatch(/^\{note\}.*\.$/);
    for (const place of places)
      expect(['note', 'is', 'nth', 'count', 'next', 'target', 'chord']).toContain(place);
    // The page finds the next note by the word before it.
    if (places.includes('next')) expect(row.sentence).toContain(' into {next}');
    if (row.family === 'device') expect(places).toContain('nth');
  });

  it.each(devices.filter(({ pattern }) => pattern !== null))(
    '$id masks steps of a line',
    ({ family, pattern }) => {
      const { shapes, at, leadIn } = pattern!;
      const lengths = new Set(shapes.map((shape) => shape.length));
      expect(lengths.size).toBe(1);
      const notes = [...lengths][0]! - (leadIn ? 1 : 0);
      if (family === 'approach') expect([notes, at === 'anywhere']).toEqual([1, false]);
      if (family === 'device') expect(notes).toBeGreaterThan(1);
      for (const steps of shapes.flat()) {
        expect(steps.length).toBeGreaterThan(0);
        expect(new Set(steps).size).toBe(steps.length);
        for (const step of steps) expect(Number.isInteger(step) && Math.abs(step) <= 13).toBe(true);
      }
    },
  );

  it('says of each device in one way only how it is found', () => {
    for (const { pattern, open, articulation } of devices)
      expect([pattern, open, articulation].filter((one) => one !== null)).toHaveLength(1);
  });

  it('gives the figures measured on people’s playing', () => {
    const ofBarLines = (id: (typeof deviceIds)[number]): number =>
      deviceOf(id).people.find(({ of }) => of === 'bar line')!.share;
    // Below and above together are the step of that size, either way.
    const [, semitone, wholeTone] = corpus.overBarLine.measured;
    expect(ofBarLines('semitone below') + ofBarLines('semitone above')).toBeCloseTo(semitone!, 2);
    expect(ofBarLines('step below') + ofBarLines('step above')).toBeCloseTo(wholeTone!, 2);
    const sources = Object.keys(corpus.sources);
    for (const { people } of devices)
      for (const { share, of, source } of people) {
        expect(share).toBeGreaterThan(0);
        expect(share).toBeLessThan(1);
        expect(of).not.toBe('');
        expect(sources).toContain(source);
      }
  });
});
