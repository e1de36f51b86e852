import fc from 'fast-check';
import { deflateSync, strToU8 } from 'fflate';
import { describe, expect, it } from 'vitest';
import { newStudy, studyRange } from '../../src/state/document';
import {
  briefly,
  linkFragment,
  linkVersion,
  readFragment,
  safeLinkLength,
  studyLink,
} from '../../src/state/links';
import { findKey } from '../../src/state/keys';
import { toBody } from '../../src/state/link-body';
import { checksum } from '../../src/state/unpacked';

const blues =
  'Title: Back Stairs\nKey: F\n| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bdim7 | F7 | Am7b5 D7 | Gm7 | C7 | F7 D7 | Gm7 C7 |';
const study = newStudy(blues, { key: findKey('Bb major') ?? null });

describe('links', () => {
  it('bring the study back', () => {
    expect(readFragment(linkFragment(study))).toEqual({ kind: 'study', study, replaced: [] });
  });

  it('brings the row of what each note is for along when it is shown, and nothing else', () => {
    const study = newStudy('| F7 |');
    expect(readFragment(linkFragment(study, { roles: true }))).toEqual({
      kind: 'study',
      study,
      replaced: [],
      view: { roles: true },
    });
    expect(readFragment(linkFragment(study, { roles: false }))).not.toHaveProperty('view');
  });

  it('brings the lesson on the sheet along', () => {
    const study = newStudy('| F7 |', { lesson: { layer: 'below', ground: 'block', from: 'frame' } });
    expect(readFragment(linkFragment(study))).toEqual({ kind: 'study', study, replaced: [] });
  });

  it('reads the lesson where links once had it, and tells of one there is not', () => {
    const linked = (view: unknown): string => {
      const { version, study } = briefly(newStudy('| F7 |'));
      const body = toBody([version, study, view]);
      return `#${linkVersion}.${checksum(body)}.${body}`;
    };
    const lesson = { layer: 'below', ground: 'block', from: null };
    expect(readFragment(linked({ roles: true, lesson }))).toEqual({
      kind: 'study',
      study: newStudy('| F7 |', { lesson: { layer: 'below', ground: 'block', from: null } }),
      replaced: [],
      view: { roles: true },
    });
    for (const strange of [{ ...lesson, layer: 'attic' }, 7, { layer: 'below' }])
      expect(readFragment(linked({ lesson: strange }))).toEqual({
        kind: 'study',
        study: newStudy('| F7 |'),
        replaced: ['lesson'],
      });
  });

  it('bring any chart text back, whatever its characters', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => {
        const reading = readFragment(linkFragment(newStudy(text)));
        // Half of a surrogate pair has no UTF-8 form: it comes back as the replacement character.
        const expected = new TextDecoder().decode(new TextEncoder().encode(text));
        expect(reading.kind === 'study' && reading.study.chartText).toBe(expected);
      }),
    );
  });

  it('put the version first, in the fragment, and stay short', () => {
    const link = studyLink(study, 'https://example.org/ramble/?x=1#old');
    expect(link.startsWith(`https://example.org/ramble/?x=1#${linkVersion}.`)).toBe(true);
    expect(link.split('#')).toHaveLength(2);
    expect(link.length).toBeLessThan(500);
    expect(link.length).toBeLessThan(safeLinkLength);
  });

  it('take no notice of a fragment that is not ours', () => {
    for (const fragment of ['', '#', '#about', '#section.2', '#%20']) {
      expect(readFragment(fragment)).toEqual({ kind: 'none' });
    }
  });

  it('notice every cut and every changed character', () => {
    const fragment = linkFragment(study);
    for (let length = 4; length < fragment.length; length += 7) {
      expect(readFragment(fragment.slice(0, length)).kind).toBe('fault');
    }
    for (let place = 12; place < fragment.length; place += 5) {
      const other = fragment[place] === 'A' ? 'B' : 'A';
      const changed = fragment.slice(0, place) + other + fragment.slice(place + 1);
      expect(readFragment(changed)).toEqual({ kind: 'fault', reason: 'cut' });
    }
  });

  it('say so when the form is newer than the program', () => {
    expect(readFragment(linkFragment(study).replace(`#${linkVersion}.`, '#2.'))).toEqual({
      kind: 'fault',
      reason: 'newer version',
    });
  });

  it('refuse a bomb, an oversized link and a well-formed lie', () => {
    // A link with a right checksum made by hand: the body of a valid link is replaced and its checksum found by trial.
    const forge = (content: Uint8Array): string => {
      const body = Buffer.from(deflateSync(content, { level: 9 })).toString('base64url');
      let hash = 0x811c9dc5;
      for (let i = 0; i < body.length; i++) hash = Math.imul(hash ^ body.charCodeAt(i), 0x01000193);
      return `#1.${(hash >>> 0).toString(36)}.${body}`;
    };
    expect(readFragment(forge(new Uint8Array(60_000_000)))).toMatchObject({ kind: 'fault' });
    expect(readFragment(forge(strToU8('{"not":"ours"}')))).toEqual({ kind: 'fault', reason: 'not a study' });
    expect(readFragment(forge(strToU8('[1,{"chartText":7}]')))).toEqual({
      kind: 'fault',
      reason: 'no chart',
    });
    expect(readFragment(forge(strToU8('[1,{"chartText":"<img src=x onerror=alert(1)>"}]')))).toMatchObject({
      kind: 'study',
      study: { chartText: '<img src=x onerror=alert(1)>' },
    });
    expect(readFragment(`#1.abc.${'A'.repeat(200_000)}`)).toMatchObject({ kind: 'fault' });
    const longest = 'z'.repeat(studyRange.chartText.most);
    expect(readFragment(linkFragment(newStudy(longest)))).toMatchObject({ kind: 'study' });
  });

  it('answer any fragment without a throw', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string(),
          fc.string().map((tail) => `#1.${tail}`),
        ),
        (fragment) => {
          expect(['none', 'study', 'fault']).toContain(readFragment(fragment).kind);
        },
      ),
    );
  });
});
