import type { EstimateAsked } from '@/lib/run/estimate/parseEstimate';
import type { ReaderConditions } from './readerCase';

/** What stands where nobody stated the air: that of reference conditions (UN GTR No. 15), dry and at 100 kPa. */
const REFERENCE_PRESSURE_PA = 100_000;
const DRY_AIR = 0;
/** Of the cabin at reference conditions (method A5). */
const REFERENCE_AUXILIARY_W = 500;

/** Bearings of road and wind: only the angle between them counts, so the road goes north. */
const ROAD_DEG = 0;
const FROM_DEG: Record<EstimateAsked['windFrom'], number | null> = {
  any: null,
  ahead: ROAD_DEG,
  behind: ROAD_DEG + 180,
  side: ROAD_DEG + 90,
};

/** What was asked, as the engine takes it; traffic and road are as at reference conditions, free and dry. */
export function conditionsAsked(
  asked: EstimateAsked,
  cruiseSpeedMps: number,
  hasHeatPump: boolean,
): ReaderConditions {
  const { pressure, altitude, climate, cabin } = asked;
  const auxiliaryPowerW = cabin ?? (climate === 'reference' ? REFERENCE_AUXILIARY_W : undefined);
  return {
    distanceM: asked.trip,
    cruiseSpeedMps,
    airTemperatureC: asked.air,
    pressure:
      altitude === undefined
        ? { kind: 'station', pressurePa: pressure ?? REFERENCE_PRESSURE_PA }
        : { kind: 'altitude', altitudeM: altitude },
    relativeHumidity: asked.humidity ?? DRY_AIR,
    wind: { speedMps: asked.windSpeed, fromDeg: FROM_DEG[asked.windFrom] },
    route: [{ bearingDeg: ROAD_DEG, lengthM: asked.trip }],
    isThereAndBack: asked.way === 'back',
    netClimbM: asked.climb,
    climate: climate === 'reference' ? 'mild' : climate,
    hasHeatPump,
    ...(auxiliaryPowerW === undefined ? {} : { auxiliaryPowerW }),
    traffic: 'free',
  };
}
