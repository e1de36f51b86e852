// The sentences for what the state has to say.
import type { Message, SavingTrouble } from '../../state';

/** A study without a title. */
export const untitled = 'Untitled';

const restoreFaults = {
  'not a study': 'That is not a Ramble study, or it is damaged. Your work is as it was.',
  'newer version': 'That study was made with a newer Ramble than this one. Your work is as it was.',
  'no chart': 'That study holds no chart. Your work is as it was.',
  'too large': 'That is larger than any study. Your work is as it was.',
} as const;

const nightFaults = {
  'not a night': 'That is not a night, or it is damaged. Your work is as it was.',
  'newer version': 'That night was made with a newer Ramble than this one. Your work is as it was.',
  'too large': 'That is larger than any night. Your work is as it was.',
  cut: 'The link to that night is not complete: a part of it was lost on the way. Your work is as it was.',
} as const;

const linkFaults = {
  ...restoreFaults,
  cut: 'The link is not complete: a part of it was lost on the way. Your work is as it was.',
  'not loaded': 'What reads links could not be loaded. Open the link once more. Your work is as it was.',
} as const;

/** Why a night does not go into the saved ones. Its page has a button for a file. */
const nightTroubles = {
  quota:
    'There is no room left to save. Remove a night or a study you no longer need, or save this night to a file.',
  newer: 'Your saved nights belong to a newer Ramble than this page. Save this night to a file.',
  store:
    'The night could not be saved in this browser. It lasts until you close the page: save it to a file.',
} as const;

const keptAside = 'What you do here is kept in this browser all the same; a file keeps it anywhere.';
const nowhere = 'What you do here lasts until you close the page: save it to a file.';

/** What stands in the way of saving, where the work is kept aside and where it is not. */
const savingTroubles = {
  'slow store': {
    held: `This browser takes long over your saved studies. ${keptAside}`,
    lost: 'This browser takes long over your saved studies. Leave the page open until it says “saved”, or save a file.',
  },
  'memory only': {
    held: `This browser does not let this page keep a list of studies. ${keptAside}`,
    lost: `This browser keeps nothing for this page. ${nowhere}`,
  },
  'newer store': {
    held: `Your saved studies belong to a newer Ramble than this page. ${keptAside}`,
    lost: `Your saved studies belong to a newer Ramble than this page. ${nowhere}`,
  },
  quota: {
    held: `There is no room left among your saved studies: remove one you no longer need. ${keptAside}`,
    lost: 'There is no room left to save. Remove a study you no longer need, or save this one to a file.',
  },
  'not saved': {
    held: `The study does not go into your saved studies at present; that is tried again. ${keptAside}`,
    lost: `The study could not be saved in this browser. ${nowhere}`,
  },
} as const satisfies Readonly<Record<SavingTrouble, Readonly<Record<'held' | 'lost', string>>>>;

/** The sentence for a message of the state. */
export function messageText(message: Message): string {
  switch (message.code) {
    case 'slow store':
    case 'memory only':
    case 'newer store':
    case 'quota':
    case 'not saved':
      return savingTroubles[message.code][message.isHeld ? 'held' : 'lost'];
    case 'saved again':
      return 'This study was no longer among the saved ones, so it was saved again.';
    case 'brought back':
      return `“${message.title || untitled}” is back: the page it was on was closed before it was saved.`;
    case 'saved beside':
      return 'This study was changed in another tab. Your version is now a study of its own; both are kept.';
    case 'gone':
      return 'That study is no longer there.';
    case 'notes lost':
      return 'Some notes of that line no longer fit its changes or this bass. New ones stand there.';
    case 'notes not kept':
      return 'This browser does not keep what is set here, nor notes of your own: they last until you close the page.';
    case 'locks lost':
      return 'A bar that was held is no longer there.';
    case 'no lesson':
      return 'The lesson of this study could not be made. Your own line is on the sheet.';
    case 'all locked':
      return 'These bars are held. Let go of them first.';
    case 'partly read':
      return 'Parts of that study could not be read and are at their usual settings.';
    case 'link copied':
      return 'The link is on the clipboard. Everything is in the link; nothing was sent anywhere.';
    case 'link long':
      return 'The link is long, and some chat programs cut long links. A file is safer.';
    case 'break':
      return 'You have been playing for 25 minutes. Time for five minutes off.';
    case 'new version':
      return 'A new version of Ramble is ready. It starts when you reload; your work stays.';
    case 'link fault':
      return linkFaults[message.reason];
    case 'restore fault':
      return restoreFaults[message.reason];
    case 'night fault':
      return nightFaults[message.reason];
    case 'night gone':
      return 'That night is no longer there.';
    case 'night partly read':
      return 'Parts of that night could not be read. They are left out or at their usual settings.';
    case 'night saved beside':
      return 'This night was changed in another tab. Your version is now a night of its own; both are kept.';
    case 'night saved again':
      return 'This night was no longer among the saved ones, so it was saved again.';
    case 'night not saved':
      return nightTroubles[message.reason];
    case 'removed':
      return `“${message.title || untitled}” was removed.`;
    case 'playing':
      return 'Playing.';
    case 'stopped':
      return 'Stopped.';
  }
}
