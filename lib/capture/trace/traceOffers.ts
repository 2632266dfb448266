import type { RunQuantity } from '@/lib/run/fields/table';
import { wallClock } from '@/lib/run/localDate';
import { unitFieldName } from '@/lib/run/numberField';
import type { RunForm } from '@/lib/run/runForm';
import { fromCanonical, type UnitCode, unitSymbol } from '@/lib/units/unit';
import type { StoredTrace } from './storedTrace';

/** One value that a recording knows and the form asks for. */
export interface TraceOffer {
  name: string;
  label: string;
  /** As it would stand in the form. */
  text: string;
  unit: UnitCode | null;
  shown: string;
  typed: string;
  /** Taken unless the tester says otherwise: only what is empty and what the recording knows best. */
  isSuggested: boolean;
  note: string;
}

const OF_DISPLAY = 'The form asks for what the car showed; take this only where that was not noted.';

interface Known {
  quantity: RunQuantity;
  label: string;
  value: number | undefined;
  unit: UnitCode;
  decimals: number;
  ofDisplay: boolean;
}

/** What the recording knows for the form, beside what is typed there. Nothing is written here. */
export function traceOffers(trace: StoredTrace, form: RunForm): TraceOffer[] {
  const { reduction } = trace;
  const { cruise, turnaround } = reduction;
  const known: Known[] = [
    of('trueSpeed', 'True cruise speed held', cruise?.meanSpeedMps, 'km/h', 1),
    of('withinBandShare', 'Share of cruise time within ±3 km/h', cruise?.withinBandShare, '%', 0),
    of('tripDistance', 'Trip distance', reduction.distanceM, 'km', 2, true),
    of('tripDuration', 'Trip duration', reduction.durationS, 'min', 1, true),
    of('outboundDistance', 'Distance at the turnaround', turnaround?.distanceM, 'km', 2, true),
    of('outboundDuration', 'Duration at the turnaround', turnaround?.elapsedS, 'min', 1, true),
  ];
  const numbers = known.flatMap(({ quantity, label, value, unit: own, decimals, ofDisplay }) => {
    if (value === undefined) return [];
    const unit = sameKind(form[unitFieldName(quantity)], own);
    const text = fromCanonical(value, unit).toFixed(decimals);
    const typed = form[quantity]?.trim() ?? '';
    return [
      {
        name: quantity,
        label,
        text,
        unit,
        shown: `${text}\u202F${unitSymbol(unit)}`,
        typed: typed === '' ? '' : `${typed}\u202F${unitSymbol(unit)}`,
        isSuggested: typed === '' && !ofDisplay,
        note: ofDisplay ? OF_DISPLAY : '',
      },
    ];
  });
  return [...numbers, ...(cruise === null ? [] : [methodOffer(form)]), ...startOffers(trace, form)];
}

function of(
  quantity: RunQuantity,
  label: string,
  value: number | undefined,
  unit: UnitCode,
  decimals: number,
  ofDisplay = false,
): Known {
  return { quantity, label, value, unit, decimals, ofDisplay };
}

/** The unit that the form shows the quantity in, where it is set. */
function sameKind(chosen: string | undefined, own: UnitCode): UnitCode {
  const kinds: readonly (readonly UnitCode[])[] = [
    ['km/h', 'mph'],
    ['km', 'mi'],
    ['min', 'h', 's'],
  ];
  return kinds.find((kind) => kind.includes(own))?.find((unit) => unit === chosen) ?? own;
}

function methodOffer(form: RunForm): TraceOffer {
  const typed = form.trueSpeedMethod ?? '';
  return {
    name: 'trueSpeedMethod',
    label: 'How the true speed was found',
    text: 'positioning',
    unit: null,
    shown: 'satellite positioning',
    typed: typed === 'positioning' ? 'satellite positioning' : typed,
    isSuggested: typed === '',
    note: '',
  };
}

/**
 * The start by the clock at the loop. A recording knows UTC only: the offset is the form's; where that is empty, the
 * nearest hour by the longitude (nautical zones of 15°) is offered, to be checked for summer time.
 */
function startOffers({ reduction, places }: StoredTrace, form: RunForm): TraceOffer[] {
  const typedOffset = form.utcOffsetMin ?? '';
  const bySun = 60 * Math.round(places.start.longitudeDeg / 15);
  const offsetMin = typedOffset === '' ? bySun : Number(typedOffset);
  const local = wallClock(reduction.startMs, offsetMin);
  const start: TraceOffer = {
    name: 'startedAtLocal',
    label: 'Start: date and local time',
    text: local,
    unit: null,
    shown: local.replace('T', ' '),
    typed: form.startedAtLocal?.replace('T', ' ') ?? '',
    isSuggested: (form.startedAtLocal ?? '') === '' && typedOffset !== '',
    note: typedOffset === '' ? 'In the time zone below, which is only a guess.' : '',
  };
  if (typedOffset !== '') return [start];
  const hours = Math.abs(offsetMin) / 60;
  const offset: TraceOffer = {
    name: 'utcOffsetMin',
    label: 'Time zone on that day',
    text: String(offsetMin),
    unit: null,
    shown: `UTC${offsetMin < 0 ? '−' : '+'}${String(hours).padStart(2, '0')}:00`,
    typed: '',
    isSuggested: false,
    note: 'By the longitude alone. Check it, summer time included.',
  };
  return [start, offset];
}
