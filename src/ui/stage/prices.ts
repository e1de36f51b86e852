// From the explanation of a beat to what the map and the list of other ways show.
import type { SlotExplanation } from '../../pipeline';
import { pitchText, type PositionName, type PricedPlacement } from '../fingerboard';
import { reasonText } from '../words/reasons';

/** Every spot in reach with its price, cheapest first. There are dozens at each beat and few are shown: words are made when read. */
export const pricesOf = (
  { spots }: SlotExplanation,
  positionName: PositionName,
): readonly PricedPlacement[] =>
  spots.map(({ placement, pitch, label, reason, price }) => ({
    placement,
    price,
    label,
    get reason() {
      return reasonText({ pitch, reason, carry: null }, positionName);
    },
    get pitchName() {
      return pitchText(pitch);
    },
  }));

/** As many spots as the board can show without hiding the hand; the list beside it has them all. */
const mostOnBoard = 14;

/** The cheapest spots. */
export const boardPrices = (
  explained: SlotExplanation,
  positionName: PositionName,
): readonly PricedPlacement[] => pricesOf(explained, positionName).slice(0, mostOnBoard);
