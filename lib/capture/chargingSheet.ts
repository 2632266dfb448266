import { z } from 'zod';
import { CAPACITY_WH, CHARGING_POWER_W, MOST_POINTS } from './chargingBounds';

const power = (what: string) =>
  z
    .number()
    .min(
      CHARGING_POWER_W[0],
      `${what} is too small. | It is what enters the battery, above 0.1 kW. | Enter it in kW.`,
    )
    .max(
      CHARGING_POWER_W[1],
      `${what} is too large. | No road car charges with more than 2,000 kW. | Enter it in kW.`,
    );

const charge = z
  .number()
  .min(0, 'The charge is below 0 %. | It is the state of charge of the battery. | Enter 0 to 100 %.')
  .max(1, 'The charge is above 100 %. | It is the state of charge of the battery. | Enter 0 to 100 %.');

export const usableCapacity = z
  .number()
  .min(CAPACITY_WH[0], 'The capacity is too small. | It is the usable battery energy. | Enter it in kWh.')
  .max(CAPACITY_WH[1], 'The capacity is too large. | It is the usable battery energy. | Enter it in kWh.');

/** What is stated of how a model charges. */
export const chargingValues = {
  points: z
    .array(z.object({ charge, powerW: power('The power') }))
    .max(
      MOST_POINTS,
      `There are more than ${MOST_POINTS} points. | The curve is drawn straight between them. | Leave out those that lie on a line.`,
    )
    .default([]),
  peakPowerW: power('The peak power').optional(),
  usableCapacityWh: usableCapacity.optional(),
  source: z
    .string()
    .trim()
    .min(
      1,
      'The source is missing. | A reader has to know where the numbers come from. | Name the data sheet, or the charge that you watched.',
    )
    .max(300, 'The source is too long. | It stands beside the figure. | Use at most 300 characters.'),
};

type Values = z.output<z.ZodObject<typeof chargingValues>>;

/** Adds what one value asks of another: a curve by rising charge or a peak, and no point above the peak. */
export function withSoundCurve<Output extends Values>(schema: z.ZodType<Output>): z.ZodType<Output> {
  return schema.superRefine(({ points, peakPowerW }, context) => {
    const complain = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    points.forEach((point, index) => {
      const before = points[index - 1];
      if (before === undefined || point.charge > before.charge) return;
      complain(
        ['points', index, 'charge'],
        'The charge does not lie above that of the row before. | The curve runs from a low charge to a high one. | Order the rows by charge, each charge once.',
      );
    });
    if (points.length === 1) {
      complain(
        ['points', 0, 'charge'],
        'There is one point alone. | A curve runs between two points at least. | Add a second one, or state only the peak power.',
      );
    }
    if (points.length === 0 && peakPowerW === undefined) {
      complain(
        ['peakPowerW'],
        'There is neither a curve nor a peak power. | One of them says how fast the car charges. | Enter two points or more, or the peak power.',
      );
    }
    const highestW = Math.max(...points.map(({ powerW }) => powerW));
    if (peakPowerW !== undefined && peakPowerW < highestW) {
      complain(
        ['peakPowerW'],
        'The peak power lies below a point of the curve. | It is the greatest power that enters the battery. | Correct one of the two, or leave the peak empty.',
      );
    }
  });
}
