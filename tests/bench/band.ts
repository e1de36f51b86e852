// The band measured: how it varies, what the parts lean, and how loud the bass is beside the rest on three kinds of speakers.
import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { wavFile } from '../../src/export';
import { feels, type Feel } from '../../src/pipeline/1-chart';
import {
  amounts,
  drumSounds,
  makeSchedule,
  parts,
  type DrumEvent,
  type Mix,
  type Music,
  type Part,
} from '../../src/playback';
import { leanOf } from '../../src/playback/lean';
import type { SampleBank, Sides } from '../../src/playback/mixdown';
import { renderWith, stringsFor } from '../../src/playback/rendering';
import { renderRate } from '../../src/playback/render-wishes';
import { drumWithoutSample } from '../../src/playback/substitutes';
import { defaultPreferences } from '../../src/state/preferences';
import { corners, loudnessOver } from '../playback/balance';
import { chartIn } from '../playback/feel-charts';
import { settingsWith } from '../playback/fixtures';
import { walked } from '../pipeline/request';
import { notesOf, type Recorded } from './recorded';

type Line = (what: string, ...values: readonly string[]) => void;

/** The mix before anyone has changed it, with some of the parts. */
export const usualMix = (heard: readonly Part[]): Mix => {
  const { mix } = defaultPreferences;
  const of = (part: Part): Mix[Part] => ({ ...mix[part], on: mix[part].on && heard.includes(part) });
  return {
    bass: of('bass'),
    cymbal: of('cymbal'),
    'hi-hat': of('hi-hat'),
    drums: of('drums'),
    chords: of('chords'),
    click: of('click'),
  };
};
const others = parts.filter((part) => part !== 'bass');

function bankOf(recorded: readonly Recorded[]): Omit<SampleBank, 'strings'> {
  const drums = new Map(
    recorded.filter(({ part }) => part === 'drums').map(({ name, samples }) => [name, samples]),
  );
  return {
    bass: new Map(),
    chords: notesOf(recorded, 'chords'),
    drums: new Map(
      drumSounds.map((sound) => [sound, drums.get(sound) ?? drumWithoutSample(sound, renderRate)]),
    ),
  };
}

const musicIn = (feel: Feel): Music => {
  const { timeline, line } = walked(chartIn(feel));
  return { timeline, notes: line.notes };
};

/** How the parts vary from bar to bar, and how many strokes they have. */
function reportVariety(line: Line): void {
  line('the band over 20 seeds: bits a bar of the cymbal; strokes a bar of drums, of chords; off the beat');
  for (const feel of feels) {
    const music = musicIn(feel);
    for (const amount of amounts) {
      const heard = new Map<string, number>();
      const strokes: Record<string, number> = { drums: 0, chords: 0, off: 0 };
      let bars = 0;
      for (let seed = 0; seed < 20; seed++) {
        const schedule = makeSchedule(music, settingsWith({ seed, amount, swing: 1 }));
        for (const { start, end } of schedule.bars) {
          const inBar = schedule.events.filter(({ tick }) => tick >= start && tick < end);
          const ride = inBar
            .filter((event): event is DrumEvent => event.part === 'cymbal')
            .map(({ sound, tick }) => `${sound}${Math.round((tick - start) / 60)}`)
            .join();
          heard.set(ride, (heard.get(ride) ?? 0) + 1);
          bars++;
          for (const { part, tick } of inBar) {
            if (part === 'drums' || part === 'chords') strokes[part]!++;
            if (part === 'chords' && (tick - start) % 480 !== 0) strokes['off']!++;
          }
        }
      }
      const bits = [...heard.values()].reduce((sum, n) => sum - (n / bars) * Math.log2(n / bars), 0);
      line(
        `  ${feel}, ${amount}`,
        bits.toFixed(2),
        `${(strokes['drums']! / bars).toFixed(2)}, ${(strokes['chords']! / bars).toFixed(2)}`,
        (strokes['off']! / strokes['chords']!).toFixed(2),
      );
    }
  }
}

function reportLeans(line: Line): void {
  const beats = Array.from({ length: 400 }, (_, i) => 480 * i);
  for (const part of parts) {
    const found = beats.map((tick) => (leanOf(part, tick, 7, 160 as never) / 480) * (60_000 / 160));
    line(`lean of ${part}, ms at 160`, Math.min(...found).toFixed(1), Math.max(...found).toFixed(1));
  }
}

/** The bass beside the rest of the band, as it is set at first. */
async function reportBalance(recorded: readonly Recorded[], line: Line, folder: string): Promise<void> {
  line(`bass less the rest of the band, LU: all, over ${corners.slice(1).join(', over ')} Hz`);
  const takes = [
    ...feels.map((feel) => [feel, 'upright'] as const),
    ...(['electric', 'sampled upright', 'sampled electric'] as const).map((one) => ['swing', one] as const),
  ];
  for (const [feel, bassSound] of takes) {
    const music = musicIn(feel);
    const { tempo } = music.timeline;
    const stems: Sides[] = [];
    const bank = {
      ...bankOf(recorded),
      bass: notesOf(recorded, bassSound === 'sampled electric' ? 'electric bass' : 'bass'),
    };
    for (const heard of [['bass'] as const, others]) {
      const settings = settingsWith({ tempo, leans: true, mix: usualMix(heard), seed: 3, bassSound });
      const strings = stringsFor({ music, settings });
      stems.push(await renderWith({ ...bank, strings }, { music, settings }));
    }
    const [bass, rest] = stems.map((sides) => loudnessOver(sides, renderRate));
    line(`  ${feel}, ${bassSound}`, ...corners.map((_, i) => (bass![i]! - rest![i]!).toFixed(1)));
    const whole = (['left', 'right'] as const).map((side) =>
      stems[0]![side].map((value, i) => value + stems[1]![side][i]!),
    );
    writeFileSync(
      join(folder, `band-${feel}-${bassSound}.wav`.replaceAll(' ', '-')),
      wavFile(whole, renderRate),
    );
  }
}

/** `recorded`: the samples, where a browser could decode them. */
export async function reportBand(
  recorded: readonly Recorded[] | null,
  line: Line,
  folder: string,
): Promise<void> {
  reportVariety(line);
  reportLeans(line);
  if (recorded) await reportBalance(recorded, line, folder);
  else line('balance of the band: not measured, as there is no browser to decode its samples');
}
