import { DataTable } from '@/app/ui/DataTable';
import { Section } from '@/app/ui/Section';
import type { IntervalsView } from '@/lib/registry/holds/intervals';
import type { Display } from '@/lib/units/display';
import { showFactor } from '@/lib/units/show';
import { HeldTable } from './HeldTable';
import { chancePercent } from './words';

type Held = NonNullable<IntervalsView['held']>;

interface ScatterProps {
  held: Held;
  names: IntervalsView['names'];
  display: Display;
}

/** Whether some scatter more than the rest, and whether cars lie where the others let expect. */
export function Scatter({ held, names, display }: ScatterProps) {
  const shown = held.dispersion;
  return (
    <>
      <Section
        id="scatter"
        title="Does everyone scatter alike?"
        note="The runs of one session against each other, for each car, tester and loop against all the rest. Every interval of the class rests on one scatter for all, so it has to fit everyone."
        wide
      >
        <DataTable
          caption={
            held.dispersionTests > shown.length
              ? `The ${shown.length} that scatter most, of ${held.dispersionTests} asked about`
              : 'Scatter within sessions, the most first'
          }
          rows={shown}
          rowKey={({ kind, key }) => `${kind} ${key}`}
          empty="Too few runs after the first of their session to ask."
          columns={[
            {
              key: 'who',
              header: 'Car, tester or loop',
              rowHeader: true,
              cell: ({ kind, key }) => `${kind}: ${names.get(key) ?? 'not shown'}`,
            },
            { key: 'runs', header: 'Runs that tell', align: 'end', cell: ({ runs }) => runs },
            {
              key: 'ratio',
              header: 'Scatter against the rest',
              unit: 'times',
              align: 'end',
              cell: ({ ratio }) => showFactor(ratio, display),
            },
            {
              key: 'chance',
              header: 'Chance of as much by luck, all counted',
              unit: '%',
              align: 'end',
              cell: ({ pHolm }) => chancePercent(pHolm, display),
            },
          ]}
          footnote="The chance allows for all that were asked about; below 2.5 % the class is said to scatter unevenly. A tester with only one car is asked about once."
        />
      </Section>
      <Section
        id="cars"
        title="Cars against the other cars"
        note="The level of each car, predicted from all the others. This tests how far cars are said to differ, about which further sessions of known cars say little."
      >
        <HeldTable
          caption="How often the level of a car was inside"
          captionHidden
          inside="Cars inside"
          rows={held.cars}
          display={display}
          footnote="The spread itself was estimated with the car among the others, so cars are a little too easily inside."
        />
      </Section>
    </>
  );
}
