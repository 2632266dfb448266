import type { UnitCode } from '@/lib/units/unit';
import type { Instrument, Moment } from './fields/entry';
import type { Choices, RunQuantity, TextName } from './fields/table';

/** A number as shown (text, unit) and as meant (canonical value with its rounding interval). */
export interface QuantityReading {
  quantity: RunQuantity;
  moment: Moment;
  instrument: Instrument;
  enteredText: string;
  enteredUnit: UnitCode;
  value: number;
  low: number;
  high: number;
}

export type Readings = Partial<Record<RunQuantity, QuantityReading>>;

type Texts = { [Name in Exclude<TextName, 'notes'>]: string | undefined };

/** A run that has passed the edge: types and canonical units are to be trusted from here on. */
export interface RunRecord extends Choices, Texts {
  carId: string;
  setupId: string;
  loopId: string;
  cruiseClassKey: string;
  /** ISO 8601 instant with offset, from the local time that the tester typed. */
  startedAt: string;
  utcOffsetMin: number;
  /** Calendar date at the loop: with car and loop it names the session. */
  localDate: string;
  readings: Readings;
  isRetrospective: boolean;
  notes: string;
}
