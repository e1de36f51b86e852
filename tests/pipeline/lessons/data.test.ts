// Layers and grounds as data.
import { describe, expect, it } from 'vitest';
import layerData from '../../../shared/lessons/layers.json' with { type: 'json' };
import {
  allPlacements,
  defaultHand,
  defaultInstrument,
  liesIn,
  regionOf,
  type Region,
} from '../../../src/instrument';
import {
  chordParts,
  deviceOf,
  groundIds,
  groundOf,
  grounds,
  layerIds,
  layerOf,
  layers,
  ruleIn,
} from '../../../src/pipeline';

describe('layers', () => {
  it('are those with names, at least thirteen, none twice', () => {
    expect(layers.map(({ id }) => id)).toEqual([...layerIds]);
    expect(layers.length).toBeGreaterThanOrEqual(13);
    expect(new Set(layers.map(({ name }) => name)).size).toBe(layers.length);
    for (const id of layerIds) expect(layerOf(id).id).toBe(id);
  });

  it.each(layers)('$name says itself in a sentence and is told by rules that the data explains', (layer) => {
    expect(layer.says).toMatch(/^[A-Z].*\.$/);
    expect(layer.brings).toMatch(/^[a-z].*[a-z]$/);
    for (const { rule } of layer.rules) expect(Object.keys(layerData.rules)).toContain(rule);
    expect(ruleIn(layer, 'notes')).toBeDefined();
    // A layer requires: all but the last, which is as people play, have a rule beside what is allowed.
    if (layer.id !== 'own') expect(layer.rules.length).toBeGreaterThan(1);
  });

  it('use every rule that is explained, and no device that leads nowhere', () => {
    const used = new Set(layers.flatMap(({ rules }) => rules.map(({ rule }) => rule)));
    expect([...used].sort()).toEqual(Object.keys(layerData.rules).sort());
    const devices = layers.flatMap((layer) => ruleIn(layer, 'into')?.by.flat() ?? []);
    for (const id of devices) expect(['approach', 'device']).toContain(deviceOf(id).family);
    for (const layer of layers) {
      const rule = ruleIn(layer, 'differ');
      const known = ruleIn(layer, 'into')?.by.flat() ?? [];
      for (const id of rule?.alike.flat() ?? []) expect(known).toContain(id);
    }
  });

  it('ask chords for parts that chords have', () => {
    for (const { rules } of layers)
      for (const rule of rules)
        if ('on' in rule) {
          expect(rule.on.length).toBeGreaterThan(0);
          for (const part of rule.on) expect(chordParts).toContain(part);
        }
    // Choices go from the one that needs most room to the one that needs least.
    for (const layer of layers) {
      const lengths = (ruleIn(layer, 'into')?.by ?? []).map(
        ([first]) => deviceOf(first!).pattern!.shapes[0]!.length,
      );
      expect(lengths).toEqual(lengths.toSorted((a, b) => b - a));
    }
  });
});

describe('grounds', () => {
  const placements = allPlacements(defaultInstrument, defaultHand, { highestPosition: 12 });

  it('are those with names, none twice; a round uses four', () => {
    expect(grounds.map(({ id }) => id)).toEqual([...groundIds]);
    expect(new Set(grounds.map(({ name }) => name)).size).toBe(grounds.length);
    expect(grounds.filter(({ isOfRound }) => isOfRound)).toHaveLength(4);
    for (const { says } of grounds) expect(says).toMatch(/^[A-Z].*\.$/);
  });

  it.each(grounds)('$name has stopped notes and all open strings', ({ place }) => {
    const there = placements.filter((one) => liesIn(place, one));
    expect(there.some(({ finger }) => finger !== '0')).toBe(true);
    const open = new Set(there.filter(({ finger }) => finger === '0').map(({ string }) => string));
    expect(open.size).toBe(defaultInstrument.strings.length);
    expect(Math.max(...place.areas.map(({ to }) => to))).toBeLessThanOrEqual(12);
  });

  it('keep the hand where their sentence says', () => {
    const stopped = (id: (typeof groundIds)[number]) =>
      placements.filter((one) => one.finger !== '0' && liesIn(groundOf(id).place, one));
    expect(Math.max(...stopped('first').map(({ position }) => position))).toBe(3);
    expect(new Set(stopped('string').map(({ string }) => string))).toEqual(new Set([1]));
    expect(stopped('no half').some(({ position }) => position === 1)).toBe(false);
    expect(stopped('anywhere').some(({ position }) => position === 1)).toBe(true);
    const regionsOf = new Set<Region>(stopped('neck').map(({ position }) => regionOf(position)));
    for (const region of groundOf('neck').least!.regions) expect(regionsOf).toContain(region);
    expect(groundOf('open').bareShifts).toBe(false);
  });

  it('can have all the shares they ask for at once', () => {
    for (const { least } of grounds) if (least) expect(least.share * least.regions.length).toBeLessThan(1);
  });
});
