import { DataTable } from '@/app/ui/DataTable';
import { Outcome } from '@/app/ui/Outcome';
import type { BlindReadings } from '@/lib/registry/review/blindReadings';

/** Readings off the photos beside the tester's: yours, and what other reviewers read otherwise. */
export function RetypedTable({ blind }: { blind: BlindReadings }) {
  const rows = blind.readings.flatMap(({ quantity, label, unit, seen }) =>
    seen === null ? [] : [{ quantity, label, unit, ...seen }],
  );
  const isTyped = rows.some(({ yours }) => yours !== null);
  return (
    <>
      {isTyped ? (
        <DataTable
          caption="Read off the photos by you"
          rows={rows}
          rowKey={({ quantity }) => quantity}
          columns={[
            { key: 'label', header: 'Reading', rowHeader: true, cell: ({ label }) => label },
            {
              key: 'yours',
              header: 'You read',
              align: 'end',
              cell: ({ yours, unit }) => (yours === null ? 'not read' : `${yours} ${unit}`),
            },
            {
              key: 'typed',
              header: 'The tester typed',
              align: 'end',
              cell: ({ typed, unit }) => `${typed} ${unit}`,
            },
            {
              key: 'agrees',
              header: 'Same',
              cell: ({ agrees }) =>
                agrees === null ? (
                  <Outcome outcome="notChecked" label="not compared" />
                ) : agrees ? (
                  <Outcome outcome="pass" label="the same" />
                ) : (
                  <Outcome outcome="fail" label="differs" />
                ),
            },
          ]}
        />
      ) : null}
      {blind.others.map(({ by, typed, differ }) => (
        <p key={by.slug} className="mt-3 text-sm">
          {by.displayName} read {typed} off the photos:{' '}
          {differ.length === 0
            ? 'all as the tester typed them.'
            : `${differ.map(({ label, text, testers }) => `${label} ${text} instead of ${testers}`).join('; ')}.`}
        </p>
      ))}
    </>
  );
}
