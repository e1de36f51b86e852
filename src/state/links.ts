// A study in the fragment of an address: version first, then a checksum, then the deflated study. The fragment never
// leaves the browser.
import * as v from 'valibot';
import { newStudy, type Study } from './document';
import {
  envelop,
  envelopeFormat,
  optionalFields,
  restore,
  type Envelope,
  type Restored,
  type RestoreFault,
} from './envelope';
import { fields } from './study-schema';
import { fromBody, toBody } from './link-body';
import { isStudyFragment } from './link-form';
import { checksum } from './unpacked';

/** Version of the link form; it stands first, so that a later form can be told apart. */
export const linkVersion = '1';
/** Links longer than this are cut by some chat programs: a file is safer. */
export const safeLinkLength = 2_000;
/** Longest link that is opened, and most bytes it may inflate to. */
const mostLinkLength = 100_000;
const mostBytes = 400_000;

export type LinkFault = RestoreFault | 'cut' | 'not loaded';
export type LinkReading =
  | { readonly kind: 'none' }
  | {
      readonly kind: 'study';
      readonly study: Study;
      readonly replaced: readonly string[];
      /** Left out when the link says nothing of it. */
      readonly view?: LinkView;
    }
  | { readonly kind: 'fault'; readonly reason: LinkFault };

const usual = envelop(newStudy('')).study;

/** Fields that the restore gate gives their usual value when they are missing need not travel with it. */
const isLeftOut = (name: string, value: unknown): boolean =>
  (optionalFields as readonly string[]).includes(name) &&
  JSON.stringify(value) === JSON.stringify(usual[name]);

/** A study's version and fields without those at their usual values; the restore gate puts them back. */
export function briefly(study: Study): Pick<Envelope, 'version' | 'study'> {
  const { version, study: all } = envelop(study);
  return {
    version,
    study: Object.fromEntries(Object.entries(all).filter(([name, value]) => !isLeftOut(name, value))),
  };
}

/** What else a link shows beside the study. An older version passes over it. */
export interface LinkView {
  /** The row with what each note is for. */
  readonly roles?: boolean;
}

/** The fragment (with its #) that opens this study. */
export function linkFragment(study: Study, view: LinkView = {}): string {
  // Starred takes stay behind: a link is for the line that is shown, and short.
  const { version, study: stored } = briefly({ ...study, stars: [] });
  const content = [version, stored, ...(view.roles ? [{ roles: true }] : [])];
  const body = toBody(content);
  return `#${linkVersion}.${checksum(body)}.${body}`;
}

/** The whole link, on the page it will open. */
export const studyLink = (study: Study, page: string, view: LinkView = {}): string =>
  `${page.split('#')[0] ?? ''}${linkFragment(study, view)}`;

const fault = (reason: LinkFault): LinkReading => ({ kind: 'fault', reason });

/** Reads the fragment of an address. A fragment that is not ours is no study and no fault. */
export function readFragment(fragment: string): LinkReading {
  const match = /^#?(\d{1,4})\.([0-9a-z]{1,7})\.([\w-]*)$/.exec(fragment.slice(0, mostLinkLength + 1));
  if (!match) return isStudyFragment(fragment) ? fault('cut') : { kind: 'none' };
  const [, version = '', sum = '', body = ''] = match;
  if (version !== linkVersion) return fault('newer version');
  if (fragment.length > mostLinkLength) return fault('too large');
  if (checksum(body) !== sum) return fault('cut');
  return inflateStudy(body);
}

function inflateStudy(body: string): LinkReading {
  const unpacked = fromBody(body, mostBytes);
  if (!unpacked.ok) return fault(unpacked.reason === 'damaged' ? 'not a study' : unpacked.reason);
  const [version, study, view] = Array.isArray(unpacked.value) ? (unpacked.value as unknown[]) : [];
  return fromRestored(restore({ format: envelopeFormat, version, study }), view);
}

function fromRestored(restored: Restored, from: unknown): LinkReading {
  if (!restored.ok) return fault(restored.reason);
  const view = typeof from === 'object' && from !== null ? from : {};
  const roles = 'roles' in view && view.roles === true;
  return { kind: 'study', ...withLesson(restored, view), ...(roles ? { view: { roles } } : {}) };
}

/** Links once named the lesson beside the study. */
function withLesson(
  { study, replaced }: Extract<Restored, { readonly ok: true }>,
  view: object,
): Pick<Extract<Restored, { readonly ok: true }>, 'study' | 'replaced'> {
  if (!('lesson' in view)) return { study, replaced };
  const lesson = v.safeParse(fields.lesson, view.lesson);
  return lesson.success
    ? { study: { ...study, lesson: lesson.output }, replaced }
    : { study, replaced: [...replaced, 'lesson'] };
}
