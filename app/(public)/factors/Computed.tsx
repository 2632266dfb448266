import { DataTable } from '@/app/ui/DataTable';
import { Section } from '@/app/ui/Section';
import { percentText } from '@/lib/answers/differenceText';
import {
  ASKED,
  type ComputedCondition,
  conditionEffects,
  referenceCar,
  steadyWhPerKm,
} from '@/lib/physics/conditionsEffect';
import { TRIP_KM } from '@/lib/registry/comparisons/compare';
import { bodyLabel } from '@/lib/run/bodyClass';
import { percentOf } from '@/lib/stats/orientedContrast';
import type { Display } from '@/lib/units/display';
import { showQuantity } from '@/lib/units/show';

const BODIES = ['saloon', 'van'] as const;

/** What weather and height do by the physics of the method: runs are adjusted for them, so they show no effect of it. */
export function Computed({
  classLabel,
  speedMps,
  display,
}: {
  classLabel: string;
  speedMps: number;
  display: Display;
}) {
  const cars = BODIES.map((body) => {
    const car = referenceCar(body);
    return { body, reference: steadyWhPerKm(car, speedMps), effects: conditionEffects(car, speedMps) };
  });
  const [first] = cars;
  const trip = showQuantity(TRIP_KM * 1000, 'distance', display);
  return (
    <Section
      id="computed"
      title="What do temperature, wind and air do?"
      note="Computed, not observed: every run is adjusted for these before runs are compared, by the same physics as here."
    >
      <DataTable
        caption={`At a steady ${classLabel} on the flat, against ${showQuantity(20, 'temperature', display, { decimals: 0 })} and calm, for a middling car of each kind`}
        rows={first?.effects ?? []}
        rowKey={({ condition }) => condition}
        columns={[
          {
            key: 'condition',
            header: 'If it were',
            rowHeader: true,
            cell: ({ condition }) => conditionText(condition, display),
          },
          ...cars.flatMap(({ body, reference, effects }) => {
            const logOf = (condition: ComputedCondition) =>
              effects.find((effect) => effect.condition === condition)?.log ?? 0;
            return [
              {
                key: `${body} share`,
                header: bodyLabel(body),
                unit: '%',
                align: 'end' as const,
                cell: ({ condition }: { condition: ComputedCondition }) =>
                  percentText(percentOf(logOf(condition)), display).replace(/\s%$/u, ''),
              },
              {
                key: `${body} energy`,
                header: `${bodyLabel(body)}, over ${trip}`,
                unit: 'kWh',
                align: 'end' as const,
                cell: ({ condition }: { condition: ComputedCondition }) =>
                  showQuantity(reference * Math.expm1(logOf(condition)) * TRIP_KM, 'kWh', display, {
                    decimals: 1,
                    signed: true,
                    bare: true,
                  }),
              },
            ];
          }),
        ]}
        footnote={`The kinds differ in the drag area assumed; both weigh ${showQuantity(referenceCar('saloon').massKg, 'mass', display, { decimals: 0 })}. What heating, cooling and a cold battery draw is not in it.`}
      />
    </Section>
  );
}

function conditionText(condition: ComputedCondition, display: Display): string {
  const wind = showQuantity(ASKED.windMps, 'wind', display, { decimals: 0 });
  const kelvin =
    display.temperature === 'degF' ? `${1.8 * ASKED.temperatureK}\u202f°F` : `${ASKED.temperatureK}\u202f°C`;
  const texts: Record<ComputedCondition, string> = {
    colder: `${kelvin} colder`,
    warmer: `${kelvin} warmer`,
    headwind: `a wind of ${wind} against the car`,
    tailwind: `a wind of ${wind} from behind`,
    bothWays: `the same wind, out and back`,
    higher: `${showQuantity(ASKED.altitudeM, 'height', display, { decimals: 0 })} above the sea, at the same temperature`,
  };
  return texts[condition];
}
