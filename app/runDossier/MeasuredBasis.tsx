import { type Definition, DefinitionList } from '@/app/ui/DefinitionList';
import { Notice } from '@/app/ui/Notice';
import type { RunResult } from '@/lib/reduction/runResult';
import type { Display } from '@/lib/units/display';
import { showNumber, showQuantity, showWithUncertainty } from '@/lib/units/show';

const SPEED_SOURCES = {
  stated: 'as stated by the tester',
  calibratedSpeedometer: 'speed shown times the calibration of this car’s speedometer',
  trace: 'mean over the recording’s cruise',
} as const;

const DISTANCE_SOURCES = {
  loop: 'the loop’s own length',
  loopAndDisplay: 'the loop’s length and the distance shown, each counting by how sure it is',
} as const;

/** Which distance and speed the result rests on, and where the car's values come from. */
export function MeasuredBasis({ result, display }: { result: RunResult; display: Display }) {
  const { distance, speed } = result;
  const crossCheck = speed?.crossCheck;
  return (
    <>
      {speed?.refusal ? <Notice kind="caution" title={speed.refusal} /> : null}
      {crossCheck && !crossCheck.agrees ? (
        <Notice
          kind="caution"
          title="The stated speed and the calibrated speedometer do not agree, so the uncertainty was widened."
        />
      ) : null}
      <DefinitionList
        items={[
          ...(distance
            ? [
                {
                  term: 'Distance',
                  description: showWithUncertainty(distance.distanceM, distance.uM, 'distance', display),
                  note: DISTANCE_SOURCES[distance.source],
                },
              ]
            : []),
          ...(speed
            ? [
                {
                  term: 'True cruise speed',
                  description: showWithUncertainty(speed.cruiseSpeedMps, speed.uMps, 'speed', display),
                  note: SPEED_SOURCES[speed.source],
                },
              ]
            : []),
          ...(crossCheck
            ? [
                {
                  term: 'Stated speed less that of the speedometer',
                  description: showWithUncertainty(
                    crossCheck.statedMps - crossCheck.calibratedMps,
                    crossCheck.uDifferenceMps,
                    'speed',
                    display,
                    { signed: true },
                  ),
                  note: crossCheck.agrees ? 'the two agree' : 'the two do not agree',
                },
              ]
            : []),
          ...carValues(result, display),
        ]}
      />
    </>
  );
}

/** Mass, drag and rolling resistance as the engine was given them; drawn from the table of priors where none was. */
function carValues({ case: { vehicle }, sources, normalisation }: RunResult, display: Display): Definition[] {
  const used = (input: string) =>
    normalisation.outcome === 'normalised'
      ? normalisation.budget.find((entry) => entry.input === input)?.value
      : undefined;
  const dragAreaM2 = vehicle.dragAreaM2 ?? used('dragAreaM2');
  const rolling = vehicle.rollingCoefficient ?? used('rollingCoefficient');
  return [
    {
      term: 'Mass as driven',
      description: showQuantity(vehicle.massKg, 'mass', display, { decimals: 0 }),
      note: sources?.massKg.words,
    },
    ...(dragAreaM2 === undefined
      ? []
      : [
          {
            term: 'Drag area',
            description: showQuantity(dragAreaM2, 'm2', display, { decimals: 3 }),
            note: sources?.dragAreaM2.words,
          },
        ]),
    ...(rolling === undefined
      ? []
      : [
          {
            term: 'Rolling resistance coefficient',
            description: showNumber(rolling, 4, display),
            note: sources?.rollingCoefficient.words,
          },
        ]),
  ];
}
