// The sentences for what the state has to say.
import type { Message } from '../../state';

/** A study without a title. */
export const untitled = 'Untitled';

const restoreFaults = {
  'not a study': 'That is not a Ramble study, or it is damaged. Your work is as it was.',
  'newer version': 'That study was made with a newer Ramble than this one. Your work is as it was.',
  'no chart': 'That study holds no chart. Your work is as it was.',
  'too large': 'That is larger than any study. Your work is as it was.',
} as const;

/** The sentence for a message of the state. */
export function messageText(message: Message): string {
  switch (message.code) {
    case 'memory only':
      return 'This browser keeps nothing for this page, so studies last until you close it. Save a file to keep one.';
    case 'quota':
      return 'There is no room left to save. Remove a study you no longer need, or save this one to a file.';
    case 'not saved':
      return 'The study could not be saved in this browser. Save it to a file to be sure.';
    case 'saved beside':
      return 'This study was changed in another tab. Your version is now a study of its own; both are kept.';
    case 'gone':
      return 'That study is no longer there.';
    case 'notes lost':
      return 'Some notes of that line no longer fit its changes or this bass. New ones stand there.';
    case 'locks lost':
      return 'A bar that was held is no longer there.';
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
      return message.reason === 'cut'
        ? 'The link is not complete: a part of it was lost on the way. Your work is as it was.'
        : restoreFaults[message.reason];
    case 'restore fault':
      return restoreFaults[message.reason];
    case 'removed':
      return `“${message.title || untitled}” was removed.`;
    case 'playing':
      return 'Playing.';
    case 'stopped':
      return 'Stopped.';
  }
}
