'use client';

import { useActionState, useSyncExternalStore } from 'react';
import { DataTable } from '@/app/ui/DataTable';
import { ChoiceField } from '@/app/ui/forms/ChoiceField';
import { FileField } from '@/app/ui/forms/FileField';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { Link } from '@/app/ui/Link';
import type { RecordingOutcome } from '@/lib/registry/traces/draftsFromRecordings';
import { sendRecordings } from './actions';
import { NOTHING_SENT } from './sentRecordings';

const never = () => () => undefined;
const zoneHere = () => Intl.DateTimeFormat().resolvedOptions().timeZone;

/** Which car, asked once, and the files; below, what became of each. */
export function SendRecordings({ cars }: { cars: readonly { id: string; name: string }[] }) {
  const [state, dispatch] = useActionState(sendRecordings, NOTHING_SENT);
  const timeZone = useSyncExternalStore(never, zoneHere, () => '');
  const [only] = cars;
  return (
    <>
      <FormFrame label="Send recordings" state={state} dispatch={dispatch} submitText="Make drafts of them">
        <input type="hidden" name="timeZone" value={timeZone} />
        <ChoiceField
          name="carId"
          label="Car"
          required
          emptyLabel={cars.length > 1 ? 'Choose the car' : undefined}
          options={cars.map(({ id, name }) => ({ value: id, label: name }))}
          defaultValue={state.values.carId ?? (cars.length === 1 ? only?.id : '')}
          error={errorOf(state.issues, 'carId')}
        />
        <FileField
          name="recordings"
          label="Recordings"
          hint="GPX 1.1, CSV or GeoJSON with a time at every point. Up to 20 files, 15 MB together; choose several, or drop them here."
          accept=".gpx,.csv,.txt,.geojson,.json,application/gpx+xml,text/csv,application/geo+json"
          multiple
          required
          error={errorOf(state.issues, 'files')}
        />
      </FormFrame>
      {state.outcomes.length > 0 ? <Outcomes outcomes={state.outcomes} /> : null}
    </>
  );
}

function Outcomes({ outcomes }: { outcomes: readonly RecordingOutcome[] }) {
  return (
    <div className="mt-8">
      <DataTable
        caption="What became of each file"
        rows={outcomes.map((outcome, at) => ({ ...outcome, key: `${at} ${outcome.fileName}` }))}
        rowKey={({ key }) => key}
        columns={[
          { key: 'file', header: 'File', rowHeader: true, cell: ({ fileName }) => fileName },
          {
            key: 'became',
            header: 'What it became',
            cell: (outcome) =>
              outcome.kind === 'refused' ? (
                'Nothing'
              ) : (
                <Link className="link num" href={`/record/${outcome.runId}`}>
                  {outcome.wasThere
                    ? `Run ${outcome.runNumber}, there already`
                    : `Draft of run ${outcome.runNumber}`}
                </Link>
              ),
          },
          {
            key: 'what',
            header: 'Loop and start, or why not',
            wide: true,
            cell: (outcome) =>
              outcome.kind === 'refused'
                ? outcome.reason
                : `${outcome.loopName ?? 'No loop that you have recorded lies there: choose it in the form'} · ${outcome.startedAtLocal.replace('T', ' ')}`,
          },
        ]}
      />
    </div>
  );
}
