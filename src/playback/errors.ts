// What the player says when it cannot play, each with what to do about it.
import type { PlayerError } from './types';

const messages: Readonly<Record<PlayerError['code'], string>> = {
  'no audio': 'This browser offers no sound. The line can still be read and exported.',
  'not loaded': 'The player could not be loaded. Check the connection and press Play again.',
  waiting: 'The sound device has not answered yet. The music begins as soon as it does.',
  stalled: 'The sound device has stopped for a moment. The music goes on with it.',
  lost: 'The sound device was lost. The music goes on with a new one in a moment.',
  restored: 'The sound was lost and has been set up anew. The music goes on from the bar where it was.',
  blocked: 'The browser has not allowed sound yet. Press Play once more, or allow sound for this page.',
  interrupted:
    'The sound was interrupted by a call, a locked screen or another program. Press Play to go on.',
  stuck: 'The sound device does not run. Check the output device and press Play again.',
  'nothing to play': 'There is no line to play yet. Write some changes first.',
};

export const playerError = (code: PlayerError['code']): PlayerError => ({ code, message: messages[code] });
