import type { RunSection } from '@/lib/run/fields/sections';
import { fieldNamed, type RunFieldName } from '@/lib/run/fields/table';

/** Where in the run form a rule's subject is entered: the section, and the field to look at first. */
export interface RulePlace {
  section: RunSection;
  field: RunFieldName;
}

/** A rule names its field; the table of fields says where that stands. */
const FIELD_OF_RULE: ReadonlyMap<string, RunFieldName> = new Map(
  Object.entries({
    'loop-closure-distance': 'loopId',
    'loop-closure-height': 'loopId',
    'legs-share-route': 'loopId',
    'off-cruise-share': 'loopId',
    'posted-limit': 'cruiseClassKey',
    'distance-matches-loop': 'tripDistance',
    'true-speed-verified': 'trueSpeedMethod',
    'mean-cruise-speed': 'trueSpeed',
    'cruise-speed-band': 'withinBandShare',
    'speedometer-error': 'indicatedSpeed',
    'cold-tyre-pressures': 'pressureFront',
    'warm-up': 'warmUpDistance',
    'climate-noted': 'climate',
    'load-noted': 'loadMass',
    'start-charge': 'chargeStart',
    'end-charge': 'chargeEnd',
    'energy-resolution': 'tripEnergy',
    'energy-readings-agree': 'tripEnergy',
    'finish-readings-agree': 'tripEfficiency',
    'turnaround-readings-agree': 'outboundDistance',
    'charge-readings-agree': 'chargeEnd',
    'charger-reading-agrees': 'chargerEnergy',
    'odometer-agrees': 'odometerEnd',
    'mean-below-cruise': 'tripDuration',
    'air-temperature': 'airTemperature',
    wind: 'windSpeed',
    'leg-wind': 'outboundEnergy',
    'dry-road': 'road',
    'no-precipitation': 'precipitation',
    traffic: 'traffic',
    'no-close-following': 'closeFollowing',
    'conditions-source': 'conditionsSource',
    'station-distance': 'stationDistance',
    'start-display-photo': 'evidence.startDisplay',
    'finish-display-photo': 'evidence.finishDisplay',
    'recorded-as-driven': 'isRetrospective',
    'date-not-ahead': 'startedAtLocal',
  } satisfies Record<string, RunFieldName>),
);

/** Nothing for rules about the run as a whole. */
export function placeOfRule(ruleId: string): RulePlace | undefined {
  const field = FIELD_OF_RULE.get(ruleId);
  return field === undefined ? undefined : { section: fieldNamed(field).section, field };
}

export const PLACED_RULES: readonly string[] = [...FIELD_OF_RULE.keys()];
