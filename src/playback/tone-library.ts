// What is used of the audio library. Its front door makes an audio context while it loads, before any gesture, and brings
// everything; these doors lead to the same classes without that.
import './tone-quiet';
import 'tone/build/esm/core/context/Destination.js';
export { Context } from 'tone/build/esm/core/context/Context.js';
export type { BaseContext } from 'tone/build/esm/core/context/BaseContext.js';
export { Filter } from 'tone/build/esm/component/filter/Filter.js';
export { OfflineContext } from 'tone/build/esm/core/context/OfflineContext.js';
export { Gain } from 'tone/build/esm/core/context/Gain.js';
export { setContext } from 'tone/build/esm/core/context/GlobalContext.js';
export { WaveShaper } from 'tone/build/esm/signal/WaveShaper.js';
