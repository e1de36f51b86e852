// How long a night of forty tunes takes to plan. It reports; it asserts nothing.
import { performance } from 'node:perf_hooks';
import { keyOfFifths, bpm } from '../../src/music';
import { planNight, type NightRequest, type NightTune, type NightWish } from '../../src/night';
import { chartNames, chartText, requestFor } from '../pipeline/request';

const count = 40;
const choruses = 6;

/** The charts that come with the program in turn, in flat keys at tempi all over. */
const tunes: readonly NightTune[] = Array.from({ length: count }, (_, at) => ({
  title: `tune ${at + 1}`,
  walked: at % 3 === 0 ? 0.8 : 1,
  request: requestFor(chartText(chartNames[at % chartNames.length]!), {
    key: keyOfFifths(-(at % 6), 'major'),
    tempo: bpm(84 + ((at * 37) % 150)),
    choruses,
  }),
}));

const sets = Array.from({ length: 4 }, (_, set) => tunes.slice(set * 10, set * 10 + 10));

export function benchNight(): void {
  const night = (...wishes: readonly NightWish[]): NightRequest => ({ sets, wishes, takes: 0 });
  const free = planNight(night());
  const { middle } = free.whole.byRegion;
  console.log(
    `a night of ${count} tunes, ${free.whole.length.toFixed(0)} minutes, ${free.whole.notes.toFixed(0)} notes, ${middle.toFixed(0)} minutes in the middle`,
  );
  const wish = (share: number): NightWish => ({ kind: 'most', region: 'middle', minutes: middle * share });
  const kinds: readonly (readonly [string, NightRequest])[] = [
    ['no wish', night()],
    ['most middle, 0.9 of it', night(wish(0.9))],
    ['most middle, half of it', night(wish(0.5))],
    ['two wishes', night(wish(0.7), { kind: 'least', region: 'neck block', minutes: middle / 3 })],
    ['longest stay 10 s', night({ kind: 'stay', seconds: 10 })],
  ];
  for (const [name, request] of kinds) {
    const begin = performance.now();
    const cpu = process.cpuUsage();
    const plan = planNight(request);
    const { user, system } = process.cpuUsage(cpu);
    const [first] = plan.wishes;
    console.log(
      `${name.padEnd(26)} ${((performance.now() - begin) / 1000).toFixed(1)} s, processor ${((user + system) / 1e6).toFixed(1)} s, ${plan.steps.length} prices, reached ${(first?.reached ?? 0).toFixed(1)}, gap ${(plan.gap / 1000 / plan.whole.notes).toFixed(5)} units a note`,
    );
  }
}
