// The band by arithmetic alone, with sounds that are computed: runs in a page and in Node.
import { drumSounds } from '../../src/playback';
import type { Sides } from '../../src/playback/mixdown';
import { renderRate } from '../../src/playback/render-wishes';
import { renderWith, stringsFor } from '../../src/playback/rendering';
import { drumWithoutSample, substituteNote } from '../../src/playback/substitutes';
import { musicOf, settingsWith } from '../playback/fixtures';
import type { Take } from './sound-harness';

export async function renderArithmetic({ chart, moments, settings: wishes }: Take): Promise<Sides> {
  const music = musicOf(chart, moments);
  const settings = settingsWith(wishes ?? {});
  return renderWith(
    {
      bass: new Map(),
      chords: new Map([[60, substituteNote(60, renderRate)]]),
      drums: new Map(drumSounds.map((sound) => [sound, drumWithoutSample(sound, renderRate)])),
      strings: stringsFor({ music, settings }),
    },
    { music, settings },
  );
}
