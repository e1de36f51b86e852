// The devices of the line that is shown, counted beside how often people play them.
import { countDevices, deviceOf, type ComparedShare } from '../../pipeline';
import type { ShownLine } from '..';

export interface CountRow {
  readonly name: string;
  readonly count: number;
  readonly compared: readonly ComparedShare[];
}

/** Those that the line has, or that people's figures are known of. */
export function devicesIn({ line, timeline }: Pick<ShownLine, 'line' | 'timeline'>): readonly CountRow[] {
  const counts = countDevices([{ notes: line.notes, devices: line.devices, bars: timeline.bars.length }]);
  return counts
    .filter(({ count, compared }) => count > 0 || compared.length > 0)
    .map(({ device, count, compared }) => ({ name: deviceOf(device).name, count, compared }));
}
