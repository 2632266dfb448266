import { z } from 'zod';
import { isUnitCode, type UnitCode } from '@/lib/units/unit';
import {
  IMPORT_STATES,
  type ImportReport,
  type ImportState,
  importReportSchema,
  type SheetReading,
  sheetReadingSchema,
} from './sheet/importReport';
import type { TraceColumns } from './trace/csvTrace';
import type { PublicTrack } from './trace/publicTrack';
import type { StoredTrace } from './trace/storedTrace';

/**
 * What this room's stored JSON may look like. A reader never throws: undefined is what cannot be read, and the page or
 * the message says so. What was added later has the value here that it had while there was no word of it.
 */
const finite = z.number();
const known = finite.nullable();
const count = z.int().min(0);

const place = z.object({ latitudeDeg: finite, longitudeDeg: finite });
const timeWindow = z.object({ startMs: finite, endMs: finite });
const unit = z.custom<UnitCode>((value) => typeof value === 'string' && isUnitCode(value));
const numberColumn = z.object({ column: count, unit });

const traceColumns = z.object({
  latitude: count,
  longitude: count,
  time: z
    .object({
      column: count,
      form: z.enum(['dateTime', 'epochSeconds', 'epochMilliseconds', 'elapsedSeconds']),
    })
    .optional(),
  elapsedFromMs: finite.optional(),
  elevation: numberColumn.optional(),
  speed: numberColumn.optional(),
  power: numberColumn.optional(),
});

const climb = z.object({ netM: finite, upM: finite, downM: finite }).nullable();

const bearings = z.object({
  sectorShares: z.array(finite),
  meanCos: finite,
  meanSin: finite,
  meanCos2: finite,
  meanSin2: finite,
});

const leg = z.object({
  direction: z.enum(['outbound', 'return']),
  distanceM: finite,
  durationS: finite,
  meanSpeedMps: finite,
  meanSquareSpeedM2S2: finite,
  climb,
  bearings,
});

const cruise = z.object({
  segments: z.array(z.object({ startS: finite, endS: finite, distanceM: finite })),
  durationS: finite,
  distanceM: finite,
  meanSpeedMps: finite,
  spreadMps: finite,
  withinBandShare: finite,
  offCruiseShare: finite,
});

const reduction = z.object({
  ok: z.literal(true),
  counts: z.object({
    given: count,
    used: count,
    excluded: count,
    byReason: z.object({
      noTime: count.default(0),
      outsideWindow: count.default(0),
      duplicate: count.default(0),
      clockStep: count.default(0),
      jump: count.default(0),
    }),
    elevationSpikes: count.default(0),
  }),
  startMs: finite,
  endMs: finite,
  distanceM: finite,
  durationS: finite,
  meanSpeedMps: finite,
  meanSquareSpeedM2S2: finite,
  speedSource: z.enum(['receiver', 'position']),
  gaps: z.array(z.object({ startS: finite, durationS: finite, distanceM: finite })),
  gapDistanceM: finite,
  closureDistanceM: finite,
  closureHeightM: known,
  turnaround: place.extend({ distanceM: finite, elapsedS: finite }).nullable(),
  sharedRouteShare: known,
  legs: z.tuple([leg, leg]).nullable(),
  cruise: cruise.nullable(),
  stops: z.array(z.object({ startS: finite, durationS: finite, distanceM: finite })),
  slowDowns: z.array(
    z.object({
      startS: finite,
      endS: finite,
      distanceM: finite,
      fallM: finite.optional(),
      fromMps: finite,
      toMps: finite,
    }),
  ),
  squaredSpeedDropM2S2: finite,
  climb,
  bearings,
  energyWh: known.default(null),
  profile: z.object({
    elapsedS: z.array(finite),
    distanceM: z.array(finite),
    speedMps: z.array(finite),
    heightM: z.array(known),
    powerW: z.array(known),
  }),
  notes: z.array(z.string()).default([]),
});

const loopMatch = z.object({
  loopId: z.string(),
  isMatch: z.boolean(),
  startOffM: finite,
  endOffM: finite,
  turnaroundOffM: known,
  shareOfLoopDriven: finite,
  shareOfTraceOnLoop: finite,
  lengthRatio: finite,
  reasons: z.array(z.string()),
});

const trace = z.object({
  columns: traceColumns.nullable().default(null),
  window: timeWindow.nullable(),
  windows: z.array(timeWindow).default([]),
  trimM: finite,
  cruiseClassKey: z.string().nullable(),
  places: z.object({ start: place, finish: place, turnaround: place.nullable(), outline: z.array(place) }),
  loopMatch: loopMatch.nullable().default(null),
  refusedPoints: z.array(z.object({ reason: z.string(), count })).default([]),
  fileNotes: z.array(z.string()).default([]),
  reduction,
});

const publicTrack = z.object({
  trimM: finite,
  removed: count,
  given: count,
  stretches: z.array(
    z.array(z.object({ eastM: finite, northM: finite, distanceM: finite, speedMps: finite, heightM: known })),
  ),
});

/** What was kept of a recording beside its file. */
export function readTrace(stored: unknown): StoredTrace | undefined {
  return trace.safeParse(stored).data;
}

/** The track without its ends. */
export function readPublicTrack(stored: unknown): PublicTrack | undefined {
  return publicTrack.safeParse(stored).data;
}

/** Which column of a CSV means what, as it was resolved for exactly these heads. */
export function readTraceColumns(stored: unknown): TraceColumns | undefined {
  return traceColumns.safeParse(stored).data;
}

export function readImportReport(stored: unknown): ImportReport | undefined {
  return importReportSchema.safeParse(stored).data;
}

/** Where an import stands, taken out of its report. */
export function readImportState(stored: unknown): ImportState | undefined {
  return IMPORT_STATES.find((state) => state === stored);
}

/** How a sheet with the same headings was read last. */
export function readSheetReading(stored: unknown): SheetReading | undefined {
  return sheetReadingSchema.safeParse(stored).data;
}
