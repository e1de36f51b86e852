// What has been read of a symbol so far, and how each piece changes it.
import { intervalOfStep } from './realise';
import { plainSpec, type Base, type ChordSpec, type AlteredDegree, type Suspension, type Top } from './spec';

export const suffixFaults = [
  'chord-unknown',
  'chord-number-missing',
  'chord-number',
  'chord-alteration',
  'chord-two-qualities',
  'chord-bracket',
] as const;
export type SuffixFault = (typeof suffixFaults)[number];

type Mutable<T> = { -readonly [K in keyof T]: T[K] extends readonly (infer Item)[] ? Item[] : T[K] };

/** Numbers of altered degrees and the ones we know them by; a flat tenth is written for a sharp ninth. */
const degreeNames: Readonly<Record<number, number>> = { 2: 9, 4: 11, 6: 13 };

/** A spec in the making. Methods that can refuse give the fault, or null. */
export class SpecDraft {
  /** Null until a quality is written. */
  base: Base | null = null;
  /** "maj" was written and no number yet. */
  isMajorPending = false;
  readonly spec: Mutable<ChordSpec> = {
    ...plainSpec,
    suspended: [],
    alterations: [],
    additions: [],
    omissions: [],
  };

  /** The spec, with what some symbols leave unsaid. */
  finished(): ChordSpec {
    const { spec } = this;
    const isAltered = (degree: number): boolean => spec.alterations.some((step) => step.degree === degree);
    // "Cmaj#11" and "Csus4b9" have a seventh that goes without saying.
    if (this.isMajorPending && spec.top === 0 && isAltered(11)) this.stack(7, true);
    if (spec.suspended.includes('4P') && spec.top === 0 && isAltered(9)) this.stack(7, false);
    return { ...spec, base: this.base ?? 'major' };
  }

  stack(top: Top, isMajor: boolean): null {
    if (top > this.spec.top) this.spec.top = top;
    if (isMajor) this.spec.majorSeventh = true;
    this.isMajorPending = false;
    return null;
  }

  /** A major seventh, and the thirds up to `top`; over a diminished seventh it is a second one. */
  stackMajor(top: Top): null {
    const isBoth = this.base === 'diminished' && this.spec.top >= 7 && !this.spec.majorSeventh;
    if (isBoth) this.spec.additions.push({ degree: 7, alter: 1 });
    return this.stack(top, !isBoth);
  }

  /** All that another spec says; its quality only when none was written. */
  merge(other: ChordSpec, withQuality: boolean): null {
    if (withQuality) {
      this.base = other.base;
      this.stack(other.top, other.majorSeventh);
    }
    this.spec.suspended.push(...other.suspended);
    this.spec.alterations.push(...other.alterations);
    return null;
  }

  suspend(tone: Suspension): null {
    this.spec.suspended.push(tone);
    return null;
  }

  add(step: AlteredDegree): SuffixFault | null {
    if (intervalOfStep(step) === undefined) return 'chord-alteration';
    this.spec.additions.push(step);
    return null;
  }

  omit(degree: number): SuffixFault | null {
    if (![3, 5, 6, 7, 9, 11, 13].includes(degree)) return 'chord-number';
    this.spec.omissions.push(degree);
    return null;
  }

  /** A degree raised, lowered or (0) made natural. */
  alter(number: number, alter: number): SuffixFault | null {
    if (number === 10) return alter === -1 ? this.alter(9, 1) : 'chord-alteration';
    const step = { degree: degreeNames[number] ?? number, alter };
    if (intervalOfStep(step) === undefined) return 'chord-alteration';
    if (step.degree === 7) return this.alterSeventh(alter);
    if (step.degree === 3) {
      if (alter !== 0) this.base = 'minor';
      return null;
    }
    if (alter === 0) return this.add(step);
    this.spec.alterations.push(step);
    return null;
  }

  private alterSeventh(alter: number): SuffixFault | null {
    if (alter === -2) return this.add({ degree: 7, alter });
    // "CM-7" says two things about its seventh.
    if (alter === -1 && this.isMajorPending) return 'chord-two-qualities';
    if (alter === -1 && this.base === 'diminished') this.makeHalfDiminished();
    return this.stack(7, alter >= 0);
  }

  makeHalfDiminished(): void {
    this.base = 'minor';
    this.spec.alterations.push({ degree: 5, alter: -1 });
    this.stack(7, false);
  }

  /**
   * A number by itself. `isFirst`: nothing stands before it; `isApart`: a bracket, comma or slash does, so that a ninth,
   * eleventh or thirteenth on a triad is added without the thirds below it.
   */
  number(number: number, isFirst: boolean, isApart: boolean): SuffixFault | null {
    const { spec } = this;
    switch (number) {
      case 2:
        return this.add({ degree: 9, alter: 0 });
      case 3:
        return spec.suspended.length > 0 ? this.add({ degree: 3, alter: 0 }) : 'chord-number';
      case 4:
        return this.base === 'minor' ? this.add({ degree: 11, alter: 0 }) : this.suspend('4P');
      case 5:
        // "C5"; in "Caug5" or "Cm5" the number says no more than the word.
        if (isFirst && this.base === null) this.base = 'power';
        return this.base === null ? 'chord-number' : null;
      case 6:
        spec.six = true;
        this.isMajorPending = false;
        return null;
      case 7:
        return this.stack(7, this.isMajorPending);
      case 9:
      case 11:
      case 13:
        if (this.isMajorPending) return this.stack(number, true);
        if (spec.top >= 7 || spec.six || isApart) return this.add({ degree: number, alter: 0 });
        return this.stack(number, false);
      default:
        return 'chord-number';
    }
  }
}
