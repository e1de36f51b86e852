// Every layer, each from the line of the one before, on every demo that walks in four, and in twelve keys of the blues with half
// position barred: a line that holds all its rules, by a checker that knows nothing of the engine. What has no line says why.
import { describe, expect, it } from 'vitest';
import fitCharts from '../../../shared/weights/fit-charts.json' with { type: 'json' };
import { practicalKeys } from '../../../src/music';
import { emptyCaches, layerIds, makeLesson, type Line, type WalkRequest } from '../../../src/pipeline';
import { layerFaults } from '../../checks/layer-rules';
import { chartText, positions, requestFor } from '../request';

/** What is wrong, in words; and how many lines were made. */
function taught(request: WalkRequest): { readonly faults: string[]; readonly made: number } {
  const caches = emptyCaches();
  const faults: string[] = [];
  let before: Line | null = null;
  let made = 0;
  for (const layer of layerIds) {
    const { line, impossible } = makeLesson(request, { layer, ground: 'anywhere' }, before, caches);
    if (line) {
      made++;
      faults.push(...layerFaults(layer, line.notes).map((fault) => `${layer}: ${JSON.stringify(fault)}`));
      before = line;
    } else if (!impossible?.message) faults.push(`${layer}: no line, and no word why`);
  }
  return { faults, made };
}

describe('every layer', () => {
  it.each(fitCharts.fromCharts)('on %s is made and holds', (id) => {
    expect(taught(requestFor(chartText(`${id}.txt`)))).toEqual({ faults: [], made: layerIds.length });
  });

  it.each(practicalKeys('major'))(
    'of the blues without half position, in $tonic, is made and holds',
    (key) => {
      const limits = { barredPositions: positions('half') };
      const request = requestFor(chartText('back-stairs-blues.txt'), { key, limits });
      expect(taught(request)).toEqual({ faults: [], made: layerIds.length });
    },
  );
});
