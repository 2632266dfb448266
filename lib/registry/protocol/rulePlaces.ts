import type { RunSection } from '@/lib/run/fields';

/** Where in the run form a rule's subject is entered: the section, and the field to look at first. */
export interface RulePlace {
  section: RunSection;
  field: string;
}

const PLACES: Readonly<Record<string, RulePlace>> = {
  'loop-closure-distance': { section: 'loop', field: 'loopId' },
  'loop-closure-height': { section: 'loop', field: 'loopId' },
  'legs-share-route': { section: 'loop', field: 'loopId' },
  'off-cruise-share': { section: 'loop', field: 'loopId' },
  'posted-limit': { section: 'loop', field: 'cruiseClassKey' },
  'distance-matches-loop': { section: 'finish', field: 'tripDistance' },
  'true-speed-verified': { section: 'loop', field: 'trueSpeedMethod' },
  'mean-cruise-speed': { section: 'loop', field: 'trueSpeed' },
  'cruise-speed-band': { section: 'loop', field: 'withinBandShare' },
  'speedometer-error': { section: 'loop', field: 'indicatedSpeed' },
  'cold-tyre-pressures': { section: 'start', field: 'pressureFront' },
  'warm-up': { section: 'start', field: 'warmUpDistance' },
  'climate-noted': { section: 'start', field: 'climate' },
  'load-noted': { section: 'start', field: 'loadMass' },
  'start-charge': { section: 'start', field: 'chargeStart' },
  'end-charge': { section: 'finish', field: 'chargeEnd' },
  'energy-resolution': { section: 'finish', field: 'tripEnergy' },
  'energy-readings-agree': { section: 'finish', field: 'tripEnergy' },
  'finish-readings-agree': { section: 'finish', field: 'tripEfficiency' },
  'turnaround-readings-agree': { section: 'turnaround', field: 'outboundDistance' },
  'charge-readings-agree': { section: 'finish', field: 'chargeEnd' },
  'charger-reading-agrees': { section: 'charging', field: 'chargerEnergy' },
  'odometer-agrees': { section: 'finish', field: 'odometerEnd' },
  'mean-below-cruise': { section: 'finish', field: 'tripDuration' },
  'air-temperature': { section: 'conditions', field: 'airTemperature' },
  wind: { section: 'conditions', field: 'windSpeed' },
  'leg-wind': { section: 'turnaround', field: 'outboundEnergy' },
  'dry-road': { section: 'conditions', field: 'road' },
  'no-precipitation': { section: 'conditions', field: 'precipitation' },
  traffic: { section: 'conditions', field: 'traffic' },
  'no-close-following': { section: 'conditions', field: 'closeFollowing' },
  'conditions-source': { section: 'conditions', field: 'conditionsSource' },
  'station-distance': { section: 'conditions', field: 'stationDistance' },
  'start-display-photo': { section: 'evidence', field: 'evidence.startDisplay' },
  'finish-display-photo': { section: 'evidence', field: 'evidence.finishDisplay' },
  'recorded-as-driven': { section: 'start', field: 'isRetrospective' },
  'date-not-ahead': { section: 'start', field: 'startedAtLocal' },
};

/** Nothing for rules about the run as a whole. */
export function placeOfRule(ruleId: string): RulePlace | undefined {
  return PLACES[ruleId];
}

export const PLACED_RULES: readonly string[] = Object.keys(PLACES);
