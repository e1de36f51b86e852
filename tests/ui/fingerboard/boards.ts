import { defaultInstrument } from '../../../src/instrument';
import { layBoard, type Board, type BoardRequest } from '../../../src/ui/fingerboard/geometry';

/** A board for tests, wide unless told otherwise. */
export const boardOf = (change: Partial<BoardRequest> = {}): Board =>
  layBoard({
    instrument: defaultInstrument,
    width: 1100,
    height: 300,
    orientation: 'landscape',
    leftHanded: false,
    endStop: 16,
    ...change,
  });

const tall = { orientation: 'portrait', width: 390, height: 640 } as const;

/** Wide and tall, right- and left-handed. */
export const boards: readonly Board[] = [
  boardOf(),
  boardOf({ leftHanded: true }),
  boardOf(tall),
  boardOf({ ...tall, leftHanded: true }),
];
