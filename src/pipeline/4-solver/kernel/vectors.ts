// Where the loops in vectors are kept, with what they have laid out, from lattice to lattice.
import type { Lattice } from '../lattice';
import { Kernel } from './kernel';

/** See `Lattice.vectors`. The loops are made ready when they are first asked for. */
export class Vectors {
  #kernel: Kernel | null | undefined;

  /** Null where they cannot run. */
  get kernel(): Kernel | null {
    if (this.#kernel === undefined) this.#kernel = Kernel.make();
    return this.#kernel;
  }

  /** Bytes that the loops work in. */
  get bytes(): number {
    return this.#kernel?.bytes ?? 0;
  }
}

/** The loops in vectors for a lattice that brings them; null where its recursions run in plain numbers. */
export const kernelOf = ({ vectors, slots }: Lattice): Kernel | null =>
  vectors instanceof Vectors && slots.every(({ placements }) => placements.length > 0)
    ? vectors.kernel
    : null;
