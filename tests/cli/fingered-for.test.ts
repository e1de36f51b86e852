// A fingering can be checked from its JSON alone: it says for which bass, hand, limits and way it was made.
import { describe, expect, it } from 'vitest';
import {
  parseCommand,
  type FingerCommand,
  type ScaleCommand,
  type WalkCommand,
} from '../../src/cli/arguments';
import { fingerOutcome, scaleOutcome, walkOutcome } from '../../src/cli/commands';
import { costOfFingering, type Played } from '../checks/hand-rules';
import { HandModel } from '../checks/hand-model';

interface Json {
  readonly tempo: number;
  readonly cost: number;
  readonly fingeredFor: {
    readonly bass: { readonly id: string; readonly length: number; readonly heel: number } & Record<
      string,
      unknown
    >;
    readonly hand: { readonly span: number; readonly way: string; readonly from: number | null };
    readonly limits: Record<string, unknown>;
    readonly way: string;
  };
  readonly notes: readonly (Omit<Played, 'string' | 'position'> & {
    readonly string: string;
    readonly positionSemitone: number;
  })[];
}

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);
const json = (output: string | Uint8Array): Json => JSON.parse(String(output)) as Json;

describe('JSON of a fingering', () => {
  it('of finger is enough for a second model to come to the same cost', () => {
    const line = 'Bb1 C2 D2 Eb2 F2 G2 A2 Bb2';
    const args = ['finger', line, '--bass', 'bass-low-b', '--span', '170', '--fingers', '1-2-3-4@II½'];
    const command = parseCommand([...args, '--avoid', 'half', '--tempo', '150', '--format', 'json']);
    const { tempo, cost, fingeredFor, notes } = json(
      fingerOutcome(bytes(line), 'line', command as FingerCommand).output,
    );
    const { bass, hand, limits, way } = fingeredFor;
    expect(bass).toMatchObject({ id: 'bass-low-b', length: 1060, heel: 8, highestStop: 24, fretted: false });
    expect(bass.tuning).toEqual([
      { string: 'I', midi: 43, name: 'G2' },
      { string: 'II', midi: 38, name: 'D2' },
      { string: 'III', midi: 33, name: 'A1' },
      { string: 'IV', midi: 28, name: 'E1' },
      { string: 'V', midi: 23, name: 'B0' },
    ]);
    expect(hand).toMatchObject({ span: 170, way: '1-2-3-4', from: 4 });
    expect(limits).toMatchObject({ avoid: ['half'], place: null, hardest: null, stay: null });
    expect([tempo, way]).toEqual([150, 'open']);
    const model = new HandModel(bass.id, hand.span, hand.way, hand.from ?? undefined);
    const played = notes.map((note): Played => ({
      ...note,
      string: ['I', 'II', 'III', 'IV', 'V'].indexOf(note.string) + 1,
      position: note.positionSemitone,
    }));
    expect(costOfFingering(model, played, tempo)).toBe(cost);
  });

  it('of scale and walk say the same: length, heel, place, hardest move, stay and shares', () => {
    const scale = parseCommand(
      'scale@Bb major@--length@1100@--heel@D@--place@block@--gentle@--way@usual@--format@json'.split('@'),
    );
    const own = json(scaleOutcome(scale as ScaleCommand).output).fingeredFor;
    expect(own.bass).toMatchObject({ length: 1100, heel: 7 });
    expect(own.limits).toMatchObject({ place: 'block', hardest: 'gentle' });
    expect(own.way).toBe('usual');
    const walk = parseCommand('walk@-@--stay@4@--region-share@low=0.2@--avoid@II@--format@json'.split('@'));
    const walked = json(walkOutcome(bytes('Key: F\n| F7 | Bb7 |\n'), 'input', walk as WalkCommand).output);
    expect(walked.fingeredFor.limits).toMatchObject({
      avoid: ['II'],
      stay: { region: 'low', beats: 4 },
      regionShares: [{ region: 'low', share: 0.2 }],
    });
    expect(walked.fingeredFor.way).toBe('open');
  });
});
