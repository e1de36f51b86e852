// The night as a strip: time across, the neck up and down, ink where the hand is.
import type { Instrument } from '../../instrument';
import type { NightPlan, TunePlan } from '../../night';
import { nightTimes, type Night } from '../../state/night';
import { neckScale, type NeckScale } from '../travel/scale';

/** How dark ink can be. */
export const shades = 5;

export interface StripTune {
  readonly set: number;
  readonly tune: number;
  readonly plan: TunePlan;
  /** Where it stands, as parts of the strip's width from 0 to 1. */
  readonly from: number;
  readonly width: number;
  /** One path a shade, from the lightest. */
  readonly ink: readonly string[];
  /** The longest stay, null where there is none. */
  readonly stay: {
    readonly x: number;
    readonly width: number;
    readonly y: number;
    readonly height: number;
  } | null;
}

export interface Strip {
  readonly scale: NeckScale;
  /** Minutes that its width stands for, breaks among them. */
  readonly minutes: number;
  readonly tunes: readonly StripTune[];
  readonly breaks: readonly {
    readonly set: number;
    readonly from: number;
    readonly width: number;
    readonly minutes: number;
  }[];
}

/** Paths are drawn this many units wide, whatever the strip's width on the screen. */
export const stripUnits = 1000;

const rounded = (value: number): number => Math.round(value * 100) / 100;

function inkPaths(plan: TunePlan, x: (seconds: number) => number, scale: NeckScale): string[] {
  const paths = Array.from({ length: shades }, () => '');
  const { seconds, columns } = plan.ink;
  columns.forEach((column, at) => {
    const left = rounded(x(at * seconds));
    // The last column ends with the tune.
    const right = Math.min((at + 1) * seconds, plan.measure.length * 60);
    const width = rounded(x(right) - x(at * seconds));
    for (const { position, share } of column) {
      const shade = Math.min(shades - 1, Math.floor(Math.sqrt(share) * shades));
      const top = rounded(scale.y(Math.max(0, position - 0.5)));
      const height = rounded(scale.y(position + 0.5) - top);
      paths[shade] += `M${left} ${top}h${width}v${height}h${-width}z`;
    }
  });
  return paths;
}

function stayBox(plan: TunePlan, x: (seconds: number) => number, scale: NeckScale): StripTune['stay'] {
  const { longestStay } = plan.measure;
  if (!longestStay) return null;
  const band = scale.bands.find(({ region }) => region === longestStay.region);
  if (!band) return null;
  const left = x(longestStay.from);
  return {
    x: rounded(left),
    width: rounded(Math.max(1.5, x(longestStay.from + longestStay.seconds) - left)),
    y: band.y,
    height: band.height,
  };
}

/** The strip of a planned night; null when nothing of it takes time. */
export function stripOf(
  night: Night,
  plan: NightPlan,
  instrument: Pick<Instrument, 'length'>,
  height: number,
): Strip | null {
  const times = nightTimes(night, plan);
  const end = times.at(-1)?.to ?? 0;
  if (plan.whole.length <= 0) return null;
  const scale = neckScale(instrument, [], height);
  const tunes: StripTune[] = [];
  plan.sets.forEach((set, at) => {
    set.forEach((tune, index) => {
      const start = times[at]!.tunes[index]!;
      const x = (seconds: number): number => ((start + seconds / 60) / end) * stripUnits;
      tunes.push({
        set: at,
        tune: index,
        plan: tune,
        from: start / end,
        width: tune.measure.length / end,
        ink: inkPaths(tune, x, scale),
        stay: stayBox(tune, x, scale),
      });
    });
  });
  const breaks = times.slice(0, -1).map(({ to }, set) => ({
    set,
    from: to / end,
    width: (times[set + 1]!.from - to) / end,
    minutes: times[set + 1]!.from - to,
  }));
  return { scale, minutes: end, tunes, breaks };
}
