// "At most so much of the time in this region": a surcharge a beat on the region, raised until the line keeps the share.
//
// The surcharge is a Lagrange multiplier. With cost c of the line found and d beats under the limit, no line that keeps
// the limit can cost less than c - surcharge * d, so the difference is how far the line can be from the best one.
import { milli, ticksPerQuarter, type Milli } from '../music';
import type { ShareLimit, SlotCandidates } from './3-candidates';
import type { Path } from './4-solver';
import { liesInRegion, priced } from './prices';
import type { Setting } from './setting';

/** A surcharge on stopped notes of a region, in integer cost units a beat. */
interface Surcharge {
  readonly limit: ShareLimit;
  readonly perBeat: number;
}

const firstSurcharge = 250;
const largestSurcharge = 64_000;
const halvings = 7;

const beatsOf = (candidates: SlotCandidates): number => candidates.slot.ticks / ticksPerQuarter;

/** The lattice with surcharges laid on; the line's own cost is told without them. */
function surcharged(setting: Setting, surcharges: readonly Surcharge[]): Setting {
  const prices = surcharges.map(({ limit, perBeat }) => ({
    region: limit.region,
    side: 'inside' as const,
    perBeat,
  }));
  const { lattice, candidates, played = candidates.length } = setting;
  return { ...setting, lattice: priced(lattice, candidates, prices, played) };
}

/** Beats over (positive) or under the limit, of the played slots. */
function excess(setting: Setting, path: Path, limit: ShareLimit): number {
  let beats = 0;
  let inside = 0;
  setting.candidates.slice(0, setting.played).forEach((candidates, t) => {
    beats += beatsOf(candidates);
    if (liesInRegion(candidates.placements[path[t]!]!, limit)) inside += beatsOf(candidates);
  });
  return inside - limit.share * beats;
}

/** A path that keeps all shares, with how far its cost can be from the best such path. */
export interface SharedPath {
  readonly path: Path;
  /** Only where the path is the best under its surcharges; a take has no such bound. */
  readonly gap: Milli;
}

/** Null when even the largest surcharge leaves a share too high, or there is no path at all. */
export function keepShares(
  setting: Setting,
  limits: readonly ShareLimit[],
  choose: (setting: Setting) => Path | null,
): SharedPath | null {
  let surcharges: readonly Surcharge[] = limits.map((limit) => ({ limit, perBeat: 0 }));
  let path = choose(setting);
  for (const [index, limit] of limits.entries()) {
    if (!path) return null;
    if (excess(setting, path, limit) <= 1e-9) continue;
    const withPerBeat = (perBeat: number): readonly Surcharge[] =>
      surcharges.map((one, at) => (at === index ? { ...one, perBeat } : one));
    let high = firstSurcharge;
    const at = (perBeat: number): Path | null => choose(surcharged(setting, withPerBeat(perBeat)));
    const keeps = (found: Path | null): boolean => found !== null && excess(setting, found, limit) <= 1e-9;
    let found = at(high);
    while (!keeps(found) && high < largestSurcharge) {
      high *= 2;
      found = at(high);
    }
    if (!keeps(found)) return null;
    let low = high === firstSurcharge ? 0 : high / 2;
    for (let step = 0; step < halvings; step++) {
      const middle = (low + high) / 2;
      const between = at(middle);
      if (keeps(between)) {
        high = middle;
        found = between;
      } else low = middle;
    }
    surcharges = withPerBeat(high);
    path = found;
  }
  if (!path) return null;
  const chosen = path;
  const gap = surcharges.reduce(
    (sum, { limit, perBeat }) => sum - perBeat * excess(setting, chosen, limit),
    0,
  );
  return { path, gap: milli(Math.max(0, gap)) };
}
