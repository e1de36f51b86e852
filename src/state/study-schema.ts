// What each stored field of a study may be. A field that came after version 1 says what it is when it is missing.
import * as v from 'valibot';
import { modes, parseNoteName, type BarNumber, type Key, type NoteName, type SoundingMidi } from '../music';
import { findInstrument, fingers, regions, type HandPosition, type StringNumber } from '../instrument';
import {
  groundIds,
  layerIds,
  lineShapes,
  ownFingerings,
  plainNames,
  plainRows,
  type KeptBar,
  type OwnLine,
  type Pin,
  type PlainName,
  type PlainRow,
  type PlainSettings,
} from '../pipeline';
import { keptFromText, mostKeptText } from './kept-text';
import { keepingRange } from './keeping';
import { signatureOf } from './keys';
import { ownFromText } from './own-text';
import { setupSchema } from './setup';
import { studyDefaults, studyRange } from './study';

type NumberRange = Readonly<Record<'least' | 'most', number>>;
const number = (range: NumberRange): v.GenericSchema<number> =>
  v.pipe(v.number(), v.minValue(range.least), v.maxValue(range.most));
const whole = (range: NumberRange): v.GenericSchema<number> => v.pipe(number(range), v.integer());

const tonic = v.pipe(
  v.string(),
  v.check((text) => parseNoteName(text) !== undefined),
  v.transform((text) => text as NoteName),
);
const key = v.pipe(
  v.object({ tonic, mode: v.picklist(modes) }),
  v.transform((parts): Key => ({ ...parts, fifths: signatureOf(parts.tonic, parts.mode) })),
  v.check((made) => Math.abs(made.fifths) <= 7),
);
const positions = v.pipe(
  v.array(whole(studyRange.position)),
  v.maxLength(studyRange.position.most),
  v.transform((list) => [...new Set(list)].sort((a, b) => a - b) as HandPosition[]),
);
const branded = <Unit extends number>(schema: v.GenericSchema<number>): v.GenericSchema<number, Unit> =>
  v.pipe(
    schema,
    v.transform((value) => value as Unit),
  );

/** Moments and places a pin can name; wider than any bass, so that only nonsense is refused. */
const pinRange = {
  bar: { least: 1, most: 10_000 },
  beat: { least: 1, most: 32 },
  midi: { least: 0, most: 127 },
  string: { least: 1, most: 8 },
  // Below nought on an extension.
  stop: { least: -12, most: 36 },
  position: { least: -12, most: 24 },
} as const;
const barNumbers = branded<BarNumber>(whole(pinRange.bar));
const heldPin = v.pipe(
  v.object({
    bar: barNumbers,
    beat: number(pinRange.beat),
    midi: whole(pinRange.midi),
    string: whole(pinRange.string),
    stop: whole(pinRange.stop),
    finger: v.picklist(fingers),
    position: whole(pinRange.position),
  }),
  v.transform((held): Pin => ({
    ...held,
    midi: held.midi as SoundingMidi,
    string: held.string as StringNumber,
    position: held.position as HandPosition,
  })),
);
const rolePin = v.object({
  bar: barNumbers,
  beat: number(pinRange.beat),
  role: v.picklist(['root', 'open', 'stopped']),
});
const pin: v.GenericSchema<unknown, Pin> = v.union([heldPin, rolePin]);

/** Kept notes in their short form; what of it is damaged is refused as a whole. */
const kept: v.GenericSchema<unknown, readonly KeptBar[]> = v.pipe(
  v.nullable(
    v.object({
      strings: v.record(v.string(), whole({ least: -24, most: 127 })),
      bars: v.pipe(v.string(), v.maxLength(mostKeptText)),
      marks: v.optional(v.array(v.pipe(v.string(), v.maxLength(1_000)))),
    }),
  ),
  v.transform((stored) => {
    if (stored === null) return [];
    const { marks, ...text } = stored;
    return keptFromText(marks === undefined ? text : { ...text, marks });
  }),
  v.check((bars) => bars !== undefined),
  v.transform((bars): readonly KeptBar[] => bars ?? []),
);
const share = v.object({ region: v.picklist(regions), share: number(studyRange.share) });
const shape = v.object({
  section: v.nullable(v.pipe(v.string(), v.maxLength(studyRange.shapes.label))),
  shape: v.picklist(lineShapes),
});
const height = v.object({ bar: whole(pinRange.bar), height: number(studyRange.heights.height) });
const lesson = v.object({
  layer: v.picklist(layerIds),
  ground: v.picklist(groundIds),
  from: v.nullable(v.picklist(layerIds)),
});
const own: v.GenericSchema<unknown, OwnLine> = v.object({
  notes: v.pipe(
    v.string(),
    v.transform(ownFromText),
    v.check((notes) => notes !== undefined),
    v.transform((notes): OwnLine['notes'] => notes ?? []),
  ),
  fingering: v.picklist(ownFingerings),
});
const star = v.object({
  name: v.pipe(v.string(), v.maxLength(keepingRange.starName.most)),
  seed: whole(studyRange.seed),
  kept,
  own: v.optional(own),
});
const strings = v.pipe(
  v.array(whole(pinRange.string)),
  v.maxLength(pinRange.string.most),
  v.transform((list) => [...new Set(list)].sort((a, b) => a - b) as StringNumber[]),
);

function valueSchema(row: PlainRow): v.GenericSchema<unknown, unknown> {
  switch (row.kind) {
    case 'number': {
      const within = v.pipe(v.number(), v.minValue(row.least), v.maxValue(row.most));
      const value = row.isWhole === true ? v.pipe(within, v.integer()) : within;
      return row.usual === null ? v.nullable(value) : value;
    }
    case 'flag':
      return v.boolean();
    case 'choice':
      return row.usual === null ? v.nullable(v.picklist(row.options)) : v.picklist(row.options);
  }
}

/** The gate for each stored value. */
const plainSchemas = Object.fromEntries(
  plainNames.map((name) => {
    const row = plainRows[name];
    const schema = valueSchema(row);
    return [name, row.isFirst ? schema : v.optional(schema, row.usual)];
  }),
) as unknown as { readonly [Name in PlainName]: v.GenericSchema<unknown, PlainSettings[Name]> };

export const fields = {
  ...plainSchemas,
  key: v.nullable(key),
  instrument: v.pipe(
    v.string(),
    v.check((id) => findInstrument(id) !== undefined),
  ),
  setup: setupSchema,
  barred: positions,
  pins: v.optional(v.pipe(v.array(pin), v.maxLength(studyRange.pins.most)), []),
  seed: whole(studyRange.seed),
  barredStrings: v.optional(strings, []),
  shares: v.optional(v.pipe(v.array(share), v.maxLength(regions.length)), []),
  shapes: v.optional(v.pipe(v.array(shape), v.maxLength(studyRange.shapes.most)), []),
  heights: v.optional(v.pipe(v.array(height), v.maxLength(studyRange.heights.most)), []),
  kept: v.optional(kept, null),
  redraws: v.optional(whole(keepingRange.redraws), studyDefaults.redraws),
  stars: v.optional(v.pipe(v.array(star), v.maxLength(keepingRange.stars.most)), []),
  lesson: v.optional(v.nullable(lesson), studyDefaults.lesson),
  own: v.optional(v.nullable(own), studyDefaults.own),
};
