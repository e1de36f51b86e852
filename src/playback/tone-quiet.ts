// Evaluated before the audio library, which else writes its name into the console.
declare global {
  var TONE_SILENCE_LOGGING: boolean | undefined;
}

globalThis.TONE_SILENCE_LOGGING = true;

export {};
