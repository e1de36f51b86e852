// Real takes of a blues that comes with the program, as a study draws them.
import { walk } from '../../../src/pipeline';
import { newStudy, type Study } from '../../../src/state/document';
import {
  drawnAsOf,
  drawnTake,
  drawRequest,
  type DrawnAs,
  type DrawnTake,
} from '../../../src/state/auditions/drawn';
import { chartText } from '../../pipeline/request';

export const blues = (wishes: Partial<Study> = {}): Study =>
  newStudy(chartText('back-stairs-blues.txt'), wishes);

export function drawn(study: Study, seed: number, index = 0, drawnAs: DrawnAs = drawnAsOf(study)): DrawnTake {
  const take = drawnTake(walk(drawRequest(study, seed, drawnAs)), { index, seed, drawnAs });
  if (!take) throw new Error('there is no line');
  return take;
}
