// From the explanation of a beat to what the map and the list of other ways show.
import type { SlotExplanation } from '../../pipeline';
import { pitchText, type PricedPlacement } from '../fingerboard';

/** Every spot in reach with its price, cheapest first. */
export const pricesOf = ({ spots }: SlotExplanation): readonly PricedPlacement[] =>
  spots.map(({ placement, pitch, role, price }) => ({ placement, price, role, pitchName: pitchText(pitch) }));

/** As many spots as the board can show without hiding the hand; the list beside it has them all. */
const mostOnBoard = 14;

/** The cheapest spots. */
export const boardPrices = (explained: SlotExplanation): readonly PricedPlacement[] =>
  pricesOf(explained).slice(0, mostOnBoard);
