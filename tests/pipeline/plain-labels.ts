// Labels of a note in a line made by hand: a degree that stands for itself, no devices.
import type { LineNote, Role } from '../../src/pipeline';

/** @param label also the role, where it is one */
export const plainLabels = (
  label: Role = 'root',
): Pick<LineNote, 'degree' | 'devices' | 'device' | 'label' | 'role'> => ({
  degree: { place: 'chord', number: 1, semitones: 0, short: 'root', name: 'root' },
  devices: [],
  device: null,
  label,
  role: label,
});
