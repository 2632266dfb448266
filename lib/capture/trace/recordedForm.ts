import { CRUISE_CLASSES } from '@/lib/run/cruiseClass';
import { wallClock } from '@/lib/run/localDate';
import { unitFieldName } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';
import type { StoredTrace } from './storedTrace';
import { traceOffers } from './traceOffers';

/** The only class this near to the speed held is the one that was meant; between two, the tester says. */
const CLASS_WITHIN_MPS = 1.5 / 3.6;

/** The form of a draft as far as a recording knows it: the readings of the displays stay open. */
export function recordedForm(
  stored: StoredTrace,
  { carId, loopId, timeZone }: { carId: string; loopId: string | undefined; timeZone: string | undefined },
): RunForm {
  const { reduction, places } = stored;
  const utcOffsetMin =
    offsetInZone(reduction.startMs, timeZone) ?? 60 * Math.round(places.start.longitudeDeg / 15);
  const cruiseMps = reduction.cruise?.meanSpeedMps;
  const near = CRUISE_CLASSES.filter(
    ({ speedMps }) => cruiseMps !== undefined && Math.abs(speedMps - cruiseMps) <= CLASS_WITHIN_MPS,
  );
  const cruiseClass = near.length === 1 ? near[0] : undefined;
  const form: RunForm = {
    carId,
    ...(loopId === undefined ? {} : { loopId }),
    ...(cruiseClass === undefined ? {} : { cruiseClassKey: cruiseClass.key }),
    startedAtLocal: wallClock(reduction.startMs, utcOffsetMin),
    utcOffsetMin: String(utcOffsetMin),
  };
  for (const { name, text, unit, isSuggested } of traceOffers(stored, form)) {
    if (!isSuggested) continue;
    form[name] = text;
    if (unit !== null) form[unitFieldName(name)] = unit;
  }
  return form;
}

/**
 * Minutes east of UTC that a zone's clocks showed at an instant, from the wall clock that the platform's copy of the
 * IANA time zone database gives for it; undefined for a zone that it does not know.
 */
export function offsetInZone(instantMs: number, timeZone: string | undefined): number | undefined {
  if (timeZone === undefined || timeZone === '') return undefined;
  try {
    const parts = new Intl.DateTimeFormat('en-GB', {
      timeZone,
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
    }).formatToParts(instantMs);
    const of = (type: string) => Number(parts.find((part) => part.type === type)?.value);
    const shownMs = Date.UTC(of('year'), of('month') - 1, of('day'), of('hour'), of('minute'));
    return Math.round((shownMs - Math.floor(instantMs / 60_000) * 60_000) / 60_000);
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}
