// How things look on paper, as attributes that every program that draws SVG understands: no style sheet, no variables.

type Look = Readonly<Record<string, string>>;

const lining = { style: 'font-variant-numeric:lining-nums' } as const;
const serif = {
  'font-family': 'Alegreya, "Ramble Notes", Georgia, serif',
  'font-weight': '700',
  ...lining,
} as const;
const sans = { 'font-family': '"Alegreya Sans", "Ramble Notes", "Segoe UI", sans-serif', ...lining } as const;
const middle = { 'text-anchor': 'middle' } as const;
const ink = '#000';
const soft = '#444';
const stroked = { fill: 'none', stroke: ink } as const;

export const looks = {
  title: { ...serif, fill: ink },
  facts: { ...sans, fill: ink },
  small: { ...sans, fill: soft },
  rule: { ...stroked, 'stroke-width': '0.8' },
  staff: { fill: 'none', stroke: soft, 'stroke-opacity': '0.75' },
  barLine: { ...stroked, 'stroke-opacity': '0.8' },
  music: { fill: ink },
  stem: stroked,
  heading: { ...serif, fill: ink },
  chord: { ...serif, fill: ink },
  finger: { ...sans, ...middle, 'font-weight': '700', fill: ink },
  string: { ...sans, ...middle, fill: soft },
  position: { ...sans, 'font-weight': '700', fill: ink },
  bracket: { ...stroked, 'stroke-opacity': '0.65' },
  carry: { ...stroked, 'stroke-width': '2', 'stroke-linecap': 'round', 'stroke-linejoin': 'round' },
  device: { ...stroked, 'stroke-width': '1.2', 'stroke-linejoin': 'round' },
  deviceName: { ...sans, ...middle, fill: ink },
} as const satisfies Readonly<Record<string, Look>>;
