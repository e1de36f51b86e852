// Where the sounds that are computed have their figures from: what stands beside them in shared/sound.
import band from '../../../shared/band/common.json' with { type: 'json' };
import electric from '../../../shared/sound/electric.json' with { type: 'json' };
import kit from '../../../shared/sound/kit.json' with { type: 'json' };
import space from '../../../shared/sound/space.json' with { type: 'json' };
import touches from '../../../shared/sound/touches.json' with { type: 'json' };
import upright from '../../../shared/sound/upright.json' with { type: 'json' };
import lean from '../../../shared/rhythm/lean.json' with { type: 'json' };
import mix from '../../../shared/rhythm/mix.json' with { type: 'json' };
import patterns from '../../../shared/rhythm/patterns.json' with { type: 'json' };
import samples from '../../../shared/rhythm/samples.json' with { type: 'json' };
import swing from '../../../shared/rhythm/swing.json' with { type: 'json' };
import touch from '../../../shared/rhythm/touch.json' with { type: 'json' };
import { soundWords } from './words';

/** Every sentence about a source in some data, each once. */
function sourcesIn(data: unknown): readonly string[] {
  if (typeof data !== 'object' || data === null) return [];
  const own = 'source' in data && typeof data.source === 'string' ? [data.source] : [];
  return [...new Set([...own, ...Object.values(data).flatMap(sourcesIn)])];
}

/** The sources of all figures, by what they are for. */
export function soundSources(): string {
  const time = { lean, swing, patterns };
  const files = { upright, electric, touches, kit, band, time, touch, mix, space, samples } as const;
  const sections = (Object.keys(files) as (keyof typeof files)[])
    .map((name) => [soundWords[name], ...sourcesIn(files[name]).map((source) => `– ${source}`)].join('\n'))
    .join('\n\n');
  return `${soundWords.licence}\n\n${sections}`;
}
