// `npm run bench -- sound`: the sound measured from the program's own output, the computed bass beside the recorded notes
// that the program has as well; pictures of what was measured are written beside. It reports; it asserts nothing.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { performance } from 'node:perf_hooks';
import { bpm } from '../../src/music';
import { makeSchedule, type Music } from '../../src/playback';
import { deedsOf } from '../../src/playback/deeds';
import { partSamples } from '../../src/playback/mixdown';
import { stringsFor } from '../../src/playback/rendering';
import { lufs } from '../../src/playback/string/ear';
import { pluckedNote } from '../../src/playback/string/note';
import { computeWish, bytesOf, stringWishes } from '../../src/playback/string/wishes';
import { wavFile } from '../../src/export';
import { walk } from '../../src/pipeline';
import { requestFor } from '../pipeline/request';
import { settingsWith } from '../playback/fixtures';
import {
  attackTime,
  centroid,
  centsOff,
  fallTime,
  highPassed,
  likeness,
  loudness,
  partialLevels,
  rate,
} from '../playback/string/measures';
import { fourths, highG, lowE, lowestStop, stopsOf, strokeOn } from '../playback/string/strokes';
import { longChart } from './charts';
import { reportBand } from './band';
import { recordedNote, recordedSounds } from './recorded';
import { spectrogram } from './spectrogram';

type Sound = (midi: number, open: number, stop: number, loud: number) => Float32Array;
/** Seconds that a note is computed for. */
const ringing = 1.8;
const computed: Sound = (_, open, stop, loud) =>
  pluckedNote(strokeOn(open, stop, { loudness: loud }), ringing, rate);

interface Row {
  readonly set: string;
  readonly midi: number;
  readonly string: number;
  readonly stop: number;
  readonly layer: number;
  readonly t10: number;
  readonly centre: number;
  readonly attack: number;
  readonly partials: readonly number[];
}

/** One row a recording, as it was measured; what a layer is in loudness is our reading of it. */
function measuredRows(): readonly Row[] {
  const file = new URL('../../shared/checks/plucked-notes.json', import.meta.url);
  const { rows } = JSON.parse(readFileSync(file, 'utf8')) as { rows: readonly (readonly unknown[])[] };
  return rows.map(([set, midi, string, stop, layer, , , , attack, t10, , centre, partials]) => ({
    set,
    midi,
    string,
    stop,
    layer,
    t10,
    centre,
    attack,
    partials,
  })) as unknown as readonly Row[];
}
const layerLoudness: Readonly<Record<string, readonly number[]>> = {
  a: [0.3, 0.65, 0.9],
  b: [0.35, 0.55, 0.75, 0.95],
};

const mean = (list: readonly number[]): number => list.reduce((sum, one) => sum + one, 0) / list.length;
const rms = (list: readonly number[]): number => Math.sqrt(mean(list.map((one) => one * one)));
const span = (list: readonly number[], digits: number): string =>
  `${Math.min(...list).toFixed(digits)} .. ${Math.max(...list).toFixed(digits)}`;
const line = (what: string, ...values: readonly string[]): void =>
  console.log(what.padEnd(58), ...values.map((value) => value.padStart(18)));

/** A chromatic scale where it lies lowest. */
function reportScale(sounds: readonly Sound[]): void {
  const scale = Array.from({ length: highG - lowE + 1 }, (_, i) => lowE + i);
  const notes = sounds.map((sound) => scale.map((midi) => sound(midi, ...lowestStop(midi), 0.65)));
  const steps = (values: readonly number[], of: (a: number, b: number) => number): number[] =>
    values.slice(1).map((value, i) => of(value, values[i]!));
  line('E1 to G3, each pitch where it lies lowest, changes of string too');
  line(
    '  loudness step of neighbours, LU, largest',
    ...notes.map((list) =>
      Math.max(
        ...steps(
          list.map((n) => loudness(n)),
          (a, b) => Math.abs(a - b),
        ),
      ).toFixed(2),
    ),
  );
  line(
    '  centroid ratio of neighbours',
    ...notes.map((list) =>
      span(
        steps(
          list.map((n) => centroid(n)),
          (a, b) => a / b,
        ),
        2,
      ),
    ),
  );
  line(
    '  cents',
    ...notes.map((list) =>
      span(
        list.map((n, i) => centsOff(n, scale[i]!)),
        1,
      ),
    ),
  );
  line(
    '  over 350 Hz, dB re all, loudness (recordings -9.1)',
    ...notes.map((list) => {
      const [whole, high] = list.reduce<[number, number]>(
        ([a, b], n) => [
          a + 10 ** (loudness(n) / 10),
          b + 10 ** ((loudness(n) + highPassed(n.slice(0, rate / 2), 350)) / 10),
        ],
        [0, 0],
      );
      return (10 * Math.log10(high / whole)).toFixed(1);
    }),
  );
}

function reportStrings(): void {
  for (const open of fourths) {
    const notes = stopsOf(open).map((stop) => computed(0, open, stop, 0.65));
    const ratios = notes.slice(1).map((note, i) => centroid(note) / centroid(notes[i]!));
    line(
      `string ${open}, computed: centroid ratio, cents`,
      span(ratios, 2),
      span(
        notes.map((n, stop) => centsOff(n, open + stop)),
        1,
      ),
    );
  }
  for (const [open, stop] of [
    [38, 3],
    [33, 8],
    [28, 13],
  ] as const) {
    const note = computed(41, open, stop, 0.65);
    line(
      `F2 on the string of ${open}: centroid Hz, T10 s, 2nd partial dB`,
      centroid(note).toFixed(0),
      fallTime(note, 10).toFixed(2),
      partialLevels(note, 87.307)[1]!.toFixed(1),
    );
  }
  const alike = (
    [
      [28, 5],
      [33, 0],
      [38, 2],
      [43, 7],
    ] as const
  ).map(([open, stop]) =>
    likeness(
      pluckedNote(strokeOn(open, stop, { seed: 1 }), 1, rate),
      pluckedNote(strokeOn(open, stop, { seed: 2 }), 1, rate),
    ),
  );
  line('two strokes on one note: correlation', span(alike, 3));
}

/** How far levels of partials lie from those of a recording, dB rms, whatever the loudness of the two. */
function partialsApart(levels: readonly number[], recorded: readonly number[]): number {
  const apart = levels.map((level, i) => Math.max(-40, level) - Math.max(-40, recorded[i]!));
  return rms(apart.map((one) => one - mean(apart)));
}

/** What such a distance is between two recordings: of one note in the two sets, and of its layers in one set. */
function reportSets(): void {
  const rows = measuredRows().filter(({ layer }) => layer > 1);
  const pairs = rows.flatMap((one, i) => rows.slice(i + 1).map((other) => [one, other] as const));
  const isOneNote = (one: Row, other: Row): boolean => one.midi === other.midi && one.string === other.string;
  const kinds: readonly (readonly [string, (one: Row, other: Row) => boolean])[] = [
    ['the other set', (one, other) => one.set !== other.set],
    ['the next layer of its set', (one, other) => one.set === other.set && other.layer - one.layer === 1],
  ];
  for (const [what, isMeant] of kinds) {
    const found = pairs.filter(([one, other]) => isOneNote(one, other) && isMeant(one, other));
    const apart = found.map(([one, other]) => partialsApart(one.partials, other.partials));
    line(
      `a recording beside ${what}: partials 1-12, dB rms, pairs`,
      mean(apart).toFixed(2),
      `${found.length}`,
    );
  }
}

/** Against the figures of single recordings; those were used while fitting, so this says how near, not how right. */
function reportRecordings(sounds: readonly Sound[]): void {
  for (const set of ['a', 'b']) {
    const rows = measuredRows().filter((row) => row.set === set && row.layer > 1);
    line(`against ${rows.length} recordings of set ${set} (all but the softest layer)`);
    const found = sounds.map((sound) =>
      rows.map((row) => ({
        row,
        note: sound(row.midi, row.string, row.stop, layerLoudness[set]![row.layer - 1]!),
      })),
    );
    line(
      '  partials 1-12 at 0.1 s, dB rms',
      ...found.map((list) =>
        mean(
          list.map(({ row, note }) =>
            partialsApart(partialLevels(note, 440 * 2 ** ((row.midi - 69) / 12)), row.partials),
          ),
        ).toFixed(2),
      ),
    );
    for (const [what, of] of [
      ['T10', ({ row, note }: (typeof found)[number][number]) => fallTime(note, 10) / row.t10],
      ['centroid', ({ row, note }: (typeof found)[number][number]) => centroid(note) / row.centre],
      [
        'attack',
        ({ row, note }: (typeof found)[number][number]) => Math.max(5, attackTime(note)) / row.attack,
      ],
    ] as const)
      line(
        `  ${what}, factor off, rms`,
        ...found.map((list) => Math.exp(rms(list.map((one) => Math.log(of(one))))).toFixed(2)),
      );
  }
}

function reportCost(music: Music): void {
  const settings = settingsWith({ tempo: bpm(160) });
  const wishes = stringWishes(
    makeSchedule(music, settings),
    { kind: 'upright', lengthMm: 1060 },
    60 / 160 / 480,
  );
  // What the processor spent, which other programs do not lengthen, beside the clock.
  const spent = (): number => {
    const { user, system } = process.cpuUsage();
    return (user + system) / 1000;
  };
  const [start, startSpent] = [performance.now(), spent()];
  let [first, firstSpent] = [0, 0];
  const bars = stringWishes(
    { ...makeSchedule(music, settings), end: 3840 as never },
    { kind: 'upright', lengthMm: 1060 },
    60 / 160 / 480,
  ).length;
  wishes.forEach((wish, i) => {
    computeWish(wish, rate);
    if (i === bars - 1) [first, firstSpent] = [performance.now() - start, spent() - startSpent];
  });
  const [all, allSpent] = [performance.now() - start, spent() - startSpent];
  const bytes = wishes.reduce((sum, wish) => sum + bytesOf(wish, rate), 0);
  line('32 bars at 160: sounds, MB', String(wishes.length), (bytes / 2 ** 20).toFixed(1));
  line('  ms for the first two bars, for all (warm)', first.toFixed(0), all.toFixed(0));
  line('  the same, of the processor', firstSpent.toFixed(0), allSpent.toFixed(0));
  const times = Array.from({ length: 40 }, (_, i) => {
    const from = spent();
    computed(0, fourths[i % 4]!, i % 14, 0.65);
    return spent() - from;
  }).sort((a, b) => a - b);
  line(
    'a note of 1.8 seconds, ms of the processor, median and nine tenths',
    times[20]!.toFixed(1),
    times[36]!.toFixed(1),
  );
}

/** The bass of a whole line: loudness, and what a small speaker leaves. */
function reportLine(music: Music, folder: string): void {
  for (const bassSound of ['upright', 'electric'] as const) {
    const settings = settingsWith({ tempo: bpm(140), bassSound });
    const schedule = makeSchedule(music, settings);
    const seconds = ((schedule.end - schedule.start) / 480) * (60 / 140);
    const bank = {
      bass: new Map(),
      chords: new Map(),
      drums: new Map(),
      strings: stringsFor({ music, settings }),
    };
    const samples = partSamples(
      'bass',
      deedsOf(schedule, settings.tempo, seconds + 2),
      bank,
      Math.round((seconds + 2) * rate),
      rate,
    );
    const power = samples.reduce((sum, value) => sum + value * value, 0) / samples.length;
    line(
      `line on ${bassSound}: dB, over 180 Hz, over 350 Hz`,
      lufs(power).toFixed(1),
      highPassed(samples, 180).toFixed(1),
      highPassed(samples, 350).toFixed(1),
    );
    writeFileSync(join(folder, `line-${bassSound}.wav`), wavFile([samples], rate));
    writeFileSync(join(folder, `line-${bassSound}.png`), spectrogram(samples.subarray(0, 8 * rate), rate));
  }
}

export async function benchSound(): Promise<void> {
  const folder = join(tmpdir(), 'ramble-sound');
  mkdirSync(folder, { recursive: true });
  const recordings = await recordedSounds();
  const recorded = recordings && recordedNote(recordings);
  const sounds: Sound[] = recorded ? [computed, (midi) => recorded(midi)] : [computed];
  line('', 'computed', recorded ? 'recorded notes' : '(no browser to decode the recorded notes)');
  reportScale(sounds);
  reportStrings();
  reportSets();
  reportRecordings(sounds);
  const result = walk(requestFor(longChart(32)));
  const music = { timeline: result.timeline!, notes: result.line!.notes };
  reportCost(music);
  reportLine(music, folder);
  await reportBand(recordings, line, folder);
  for (const [open, stop] of [
    [38, 3],
    [33, 8],
    [28, 13],
  ] as const)
    writeFileSync(join(folder, `F2-on-${open}.png`), spectrogram(computed(41, open, stop, 0.65), rate));
  if (recorded) writeFileSync(join(folder, 'F2-recorded.png'), spectrogram(recorded(41), rate));
  console.log(
    `not measured here: the log-spectral distance to recordings left out of the fit, as the recordings are not at hand`,
  );
  console.log(`spectrograms and sound files: ${folder}`);
}
