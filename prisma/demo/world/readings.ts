import type { RunForm } from '@/lib/run/runForm';
import { fromCanonical, type UnitCode } from '@/lib/units/unit';
import { type DrivenRun, UTC_OFFSET_MIN } from './drive';
import type { PriorDraws } from './priorDraws';
import { RandomStream } from './randomStream';
import { reportConditions } from './weather';

/** The car's counting so far, in metres as its own odometer measures them. */
export interface Odometer {
  shownM: number;
}

const NOTES = [
  '',
  '',
  '',
  '',
  'No stops, one overtaking manoeuvre on the way out.',
  'Cruise control throughout; lane assist off.',
  'Passenger noted the numbers.',
  'Parked with the display on to read it.',
] as const;

/** A canonical value as a display of that unit and count of decimals rounds it. */
export function shown(canonical: number, unit: UnitCode, decimals: number): string {
  return fromCanonical(canonical, unit).toFixed(decimals);
}

/** Hours and minutes as a trip clock rounds them. */
export function shownClock(seconds: number): string {
  const minutes = Math.round(seconds / 60);
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`;
}

export function localMinute(instantMs: number): string {
  return new Date(instantMs + UTC_OFFSET_MIN * 60_000).toISOString().slice(0, 16);
}

/**
 * The form as its tester would type it after the run, all but the ids of car, setup and loop.
 * Every number is the truth seen through the car's own instrument and then rounded once, so that all of a good run's
 * readings agree within their rounding.
 */
export function fillForm(seed: number, draws: PriorDraws, run: DrivenRun, odometer: Odometer): RunForm {
  const { model, setup, truth, session } = run;
  const { car } = session;
  const { display } = model;
  const stream = new RandomStream(seed, `form ${run.key}`);
  const distanceUnit = display.distance.unit;
  const speedUnit = display.speed.unit;
  // what the car believes to have drawn and driven
  const shownWh = truth.energyWh * (1 + truth.shownShare);
  const countedM = run.trueDistanceM / car.odometerFactor;
  const form: RunForm = {
    cruiseClassKey: session.cruiseClassKey,
    startedAtLocal: localMinute(run.startedAtMs),
    utcOffsetMin: String(UTC_OFFSET_MIN),
    isRetrospective: '',
    notes: stream.pick(NOTES),

    trueSpeed: shown(
      truth.cruiseSpeedMps + (0.3 / 3.6) * draws.normal('run', `true speed ${run.key}`),
      speedUnit,
      1,
    ),
    trueSpeedUnit: speedUnit,
    trueSpeedMethod: trueSpeedMethod(run, stream),
    indicatedSpeed: shown(truth.cruiseSpeedMps / car.speedometerFactor, speedUnit, 0),
    indicatedSpeedUnit: speedUnit,
    withinBandShare: stream.chance(0.4) ? stream.uniform(93, 99.4).toFixed(0) : '',

    chargeStart: shown(run.trueChargeStart, '%', 0),
    warmUpDistance: shown(stream.uniform(11_500, 22_000), distanceUnit, 0),
    warmUpDistanceUnit: distanceUnit,
    loadMass: String(setup.loadKg),
    climate: run.climate,

    tripDistance: shown(countedM, distanceUnit, display.distance.decimals),
    tripDistanceUnit: distanceUnit,
    tripEnergy: shown(shownWh, display.energy.unit, display.energy.decimals),
    tripEnergyUnit: display.energy.unit,
    tripEfficiency: shown(
      (1000 * shownWh) / countedM,
      display.consumption.unit,
      display.consumption.decimals,
    ),
    tripEfficiencyUnit: display.consumption.unit,
    tripDuration: shownClock(truth.durationS),
    chargeEnd: shown(run.trueChargeEnd, '%', 0),

    precipitation: 'none',
    road: 'dry',
    traffic: run.traffic,
    closeFollowing: 'none',
    ...reportConditions(
      seed,
      session.weatherSource,
      session.loop,
      truth.conditions,
      session.key,
      run.startedAtMs,
      draws,
    ),
  };
  Object.assign(form, tyrePressures(run, stream));
  if (display.showsAuxiliaryPower) {
    form.auxiliaryPower = shown(Math.max(100, truth.auxiliaryPowerW - misreadW(draws, run)), 'kW', 1);
  }
  if (stream.chance(0.6)) {
    form.odometerStart = truncated(odometer.shownM, distanceUnit);
    form.odometerEnd = truncated(odometer.shownM + countedM, distanceUnit);
    form.odometerStartUnit = distanceUnit;
    form.odometerEndUnit = distanceUnit;
  }
  if (stream.chance(0.5)) {
    form.tripMeanSpeed = shown(countedM / truth.durationS, speedUnit, display.speed.decimals);
    form.tripMeanSpeedUnit = speedUnit;
  }
  if (stream.chance(0.55)) {
    form.outboundDistance = shown(countedM / 2, distanceUnit, display.distance.decimals);
    form.outboundDistanceUnit = distanceUnit;
    form.outboundEnergy = shown(
      truth.outboundEnergyWh * (1 + truth.shownShare),
      display.energy.unit,
      display.energy.decimals,
    );
    form.outboundEnergyUnit = display.energy.unit;
    form.outboundDuration = shownClock(run.outboundDurationS);
  }
  if (stream.chance(0.5)) {
    // back to the shown start charge, which hides up to half a point
    const addedWh = truth.energyWh + stream.uniform(-0.003, 0.003) * car.usableCapacityWh;
    form.chargerEnergy = shown(addedWh / car.chargingEfficiency, 'kWh', car.chargerKind === 'dc' ? 2 : 1);
    form.chargerKind = car.chargerKind;
  }
  odometer.shownM += countedM + stream.uniform(2_000, 30_000);
  return form;
}

/** What a glance at the auxiliary power shows too little of its mean over the run: 75 W and 30 % of it. */
function misreadW(draws: PriorDraws, { truth, session }: DrivenRun): number {
  const u = Math.hypot(75, 0.3 * truth.auxiliaryPowerW);
  const habit = 0.8 * draws.normal('car', `glance ${session.car.key}`);
  return u * (habit + 0.6 * draws.normal('session', `glance ${session.key}`));
}

/** A calibration ages: in its second year the testers go by satellite positioning alone. */
function trueSpeedMethod(run: DrivenRun, stream: RandomStream): string {
  const ageDays = (run.startedAtMs - Date.parse(run.session.car.calibratedOn)) / 86_400_000;
  return stream.chance(0.15) && ageDays < 330 ? 'calibratedSpeedometer' : 'positioning';
}

/** Cold pressures by gauge, and the placard's where the setup's load has its own. */
function tyrePressures(run: DrivenRun, stream: RandomStream): RunForm {
  const { setup, model } = run;
  const usesPsi = model.display.distance.unit === 'mi';
  const unit: UnitCode = usesPsi ? 'psi' : 'bar';
  const decimals = usesPsi ? 0 : 2;
  const measured = (placardPa: number): string =>
    shown(placardPa * stream.normalWithin(1, 0.006, 0.014), unit, decimals);
  const baseline = model.setups[0];
  const form: RunForm = {
    pressureFront: measured(setup.placardPa.front),
    pressureFrontUnit: unit,
    pressureRear: measured(setup.placardPa.rear),
    pressureRearUnit: unit,
  };
  if (
    setup.placardPa.front !== baseline?.placardPa.front ||
    setup.placardPa.rear !== baseline.placardPa.rear
  ) {
    form.placardFront = shown(setup.placardPa.front, unit, decimals);
    form.placardFrontUnit = unit;
    form.placardRear = shown(setup.placardPa.rear, unit, decimals);
    form.placardRearUnit = unit;
  }
  return form;
}

/** An odometer cuts off what it has not yet completed. */
function truncated(metres: number, unit: UnitCode): string {
  return String(Math.floor(fromCanonical(metres, unit)));
}
