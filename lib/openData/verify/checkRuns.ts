import { type Method, reduceRun } from '@/lib/reduction/reduceRun';
import { type RunPart, runParts, sharedContributions } from '@/lib/reduction/runParts';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { readParts, readReduction } from '@/lib/reduction/stored';
import { attempt } from '@/lib/run/attempt';
import { runField } from '@/lib/run/fields/table';
import { dateText, midnightUtc } from '@/lib/run/localDate';
import { countedDay, firstOfMonth } from '@/lib/run/publishedDay';
import { type RunColumns, RunColumnsBuilder } from '@/lib/stats/runColumns';
import { SetupTallies } from '@/lib/stats/tallySetups';
import { parseQuantity } from '@/lib/units/parse';
import { isUnitCode } from '@/lib/units/unit';
import type { Row, Table } from '../column';
import { conditionsOf, inputRow, readingsOf, snapshotOf } from '../inputRows';
import { resultRow } from '../resultRow';
import { CONDITIONS, INPUTS, READINGS, RECORDINGS, RESULTS, RUNS } from '../tables/runTables';
import { MERGES } from '../tables/thingTables';
import { type Differences, isSameNumber } from './difference';
import { InStep } from './inStep';

/** The runs of a class that count, as its fit takes them. */
export interface ClassRuns {
  runs: RunColumns;
  tallies: SetupTallies;
  notNormalised: number;
  /** Those of which nobody can say what they share with others. */
  unreadable: number;
}

class ClassBuilder {
  readonly runs = new RunColumnsBuilder();
  readonly tallies = new SetupTallies();
  notNormalised = 0;
  unreadable = 0;

  built(): ClassRuns {
    const { tallies, notNormalised, unreadable } = this;
    return { runs: this.runs.columns(), tallies, notNormalised, unreadable };
  }
}

export type ReadRows = (table: Table) => AsyncIterable<Row>;

/**
 * Computes every run's result again from its readings and inputs, one run at a time, and gathers by class what the fits
 * are made from.
 */
export async function checkRuns(
  read: ReadRows,
  method: Method,
  differences: Differences,
  onRun?: (done: number) => void,
): Promise<Map<string, ClassRuns>> {
  const [readings, conditions, inputs, recordings, results] = [
    READINGS,
    CONDITIONS,
    INPUTS,
    RECORDINGS,
    RESULTS,
  ].map((table) => new InStep(read(table), 'run')) as [InStep, InStep, InStep, InStep, InStep];
  const classes = new Map<string, ClassBuilder>();
  const merged = new Map<string, string>();
  for await (const { kind, id, into_id } of read(MERGES)) merged.set(`${kind} ${id}`, String(into_id));
  let done = 0;
  for await (const run of read(RUNS)) {
    const key = run.run;
    const kept = {
      readings: await readings.take(key),
      conditions: (await conditions.take(key))[0],
      input: (await inputs.take(key))[0],
      recording: (await recordings.take(key))[0],
      result: (await results.take(key))[0],
    };
    checkRun(run, kept, { method, merged }, differences);
    if (run.counts === true) count(classes, run, kept.result);
    done += 1;
    onRun?.(done);
  }
  return new Map([...classes].map(([key, builder]) => [key, builder.built()]));
}

interface Kept {
  readings: readonly Row[];
  conditions: Row | undefined;
  input: Row | undefined;
  recording: Row | undefined;
  result: Row | undefined;
}

/** The method, and what went by a kind and an id, with the one that it was found to be. */
interface By {
  method: Method;
  merged: ReadonlyMap<string, string>;
}

function checkRun(run: Row, kept: Kept, { method, merged }: By, differences: Differences): void {
  const row = String(run.run);
  if (run.counts === true && run.status !== 'approved')
    differences.add('runs', row, 'status', `a run that counts is approved, not ${run.status}`);
  for (const reading of kept.readings) checkReading(reading, differences);
  const { input } = kept;
  if (input === undefined) {
    if (kept.result !== undefined)
      differences.add('inputs', row, '', 'there is a result, and nothing that it was made from');
    return;
  }
  const read = snapshotOf(input, kept.readings, kept.recording);
  if (!read.ok) {
    differences.add('inputs', row, '', `the inputs cannot be read: ${read.message}`);
    return;
  }
  const { snapshot } = read;
  checkIdentity(run, snapshot, merged, differences);
  if (run.month_only === true) checkMonth(run, differences);
  // what was put in beside what is read would be seen nowhere else
  const { origin: _origin, ...expected } = inputRow(run.run as number, snapshot, '');
  differences.compare(INPUTS, input, expected, 'as it is read');
  const readings = readingsOf(run.run as number, snapshot);
  kept.readings.forEach((reading, at) => {
    const expected = readings[at];
    if (expected !== undefined)
      differences.compare(READINGS, reading, { unit: expected.unit }, 'by the unit entered');
  });
  if (kept.conditions === undefined) differences.add('conditions', row, '', 'there is no row of the run');
  else
    differences.compare(
      CONDITIONS,
      kept.conditions,
      conditionsOf(run.run as number, snapshot),
      'by its inputs',
    );
  checkResult(run, snapshot, kept.result, method, differences);
}

/** What was typed says what it means: value and interval follow from the digits and the unit. */
function checkReading(reading: Row, differences: Differences): void {
  const field = runField(String(reading.quantity));
  const unit = String(reading.entered_unit);
  const key = `${reading.run}, ${reading.quantity}`;
  if (!isUnitCode(unit)) {
    differences.add('readings', key, 'entered_unit', `${unit} is no unit`);
    return;
  }
  // a field of earlier releases, of which nobody knows any more how its display rounds
  if (field?.kind !== 'quantity') return;
  const parsed = parseQuantity(String(reading.entered_text), unit, {
    allowNegative: field.allowNegative ?? false,
    rounding: field.rounding ?? 'nearest',
  });
  if (!parsed.ok) {
    differences.add('readings', key, 'entered_text', parsed.message);
    return;
  }
  for (const name of ['value', 'low', 'high'] as const)
    if (!isSameNumber(reading[name] as number, parsed[name]))
      differences.add('readings', key, name, `${reading[name]} here, ${parsed[name]} by the digits entered`);
}

/** Who, where and when: the run's row says the same as its inputs, or what their entries were found to be since. */
function checkIdentity(
  run: Row,
  { record, model, loop }: ReductionSnapshot,
  merged: By['merged'],
  differences: Differences,
): void {
  const now = (kind: string, id: string) => merged.get(`${kind} ${id}`) ?? id;
  differences.compare(
    RUNS,
    run,
    {
      car_id: now('car', record.carId),
      setup_id: now('setup', record.setupId),
      model_id: now('model', model.id),
      loop_id: now('loop', loop.id),
      cruise_class: record.cruiseClassKey,
      local_date: record.localDate,
      started_at: new Date(record.startedAt).toISOString(),
      utc_offset_min: record.utcOffsetMin,
      is_retrospective: record.isRetrospective,
    },
    'by its inputs',
  );
}

/** Of a run with no more than its month published nothing says more: it stands at the beginning of the month. */
function checkMonth(run: Row, differences: Differences): void {
  const first = firstOfMonth(midnightUtc(String(run.local_date)));
  const began = new Date(first.getTime() - (run.utc_offset_min as number) * 60_000);
  const expected = { local_date: dateText(first), started_at: began.toISOString() };
  differences.compare(RUNS, run, expected, 'as its month began');
}

function checkResult(
  run: Row,
  snapshot: ReductionSnapshot,
  result: Row | undefined,
  method: Method,
  differences: Differences,
): void {
  const row = String(run.run);
  const made = attempt(() => reduceRun(snapshot, method));
  // Through JSON, as the result that was kept went.
  const reduction =
    typeof made === 'string' ? undefined : readReduction(JSON.parse(JSON.stringify(made.reduction)));
  if (reduction === undefined) {
    if (result !== undefined) differences.add('results', row, '', 'no result can be made from the inputs');
    return;
  }
  if (result === undefined) {
    if (run.counts === true) differences.add('results', row, '', 'the run counts, and has no result');
    return;
  }
  const parts = run.counts === true ? runParts(ownersOf(run), reduction.normalisation) : null;
  differences.compare(
    RESULTS,
    result,
    allColumns(resultRow(run.run as number, reduction, parts)),
    'from its readings and inputs',
  );
}

/** Null where a computed row has nothing. */
function allColumns(row: Row): Row {
  return Object.fromEntries(RESULTS.columns.map(({ name }) => [name, row[name] ?? null]));
}

function ownersOf(run: Row) {
  return {
    sessionId: String(run.session_id),
    carId: String(run.car_id),
    loopId: String(run.loop_id),
    modelId: String(run.model_id),
    setupId: String(run.setup_id),
  };
}

function count(classes: Map<string, ClassBuilder>, run: Row, result: Row | undefined): void {
  const key = String(run.cruise_class);
  const own = classes.get(key) ?? new ClassBuilder();
  classes.set(key, own);
  if (result === undefined || result.is_normalised !== true) {
    own.notNormalised += 1;
    return;
  }
  const parts: RunPart[] | undefined = readParts(result.shared_parts);
  if (parts === undefined) {
    own.unreadable += 1;
    return;
  }
  const { sessionId, carId, loopId, modelId, setupId } = ownersOf(run);
  own.runs.add({
    runId: String(run.run_id),
    setup: setupId,
    model: modelId,
    car: carId,
    session: sessionId,
    loop: loopId,
    tester: String(run.tester_id),
    z: Math.log(result.normalised_wh_per_km as number),
    u: result.u_run_relative as number,
    shared: sharedContributions(parts),
  });
  own.tallies.add({
    setupId,
    testerId: String(run.tester_id),
    carId,
    loopId,
    day: countedDay({ day: String(run.local_date), monthOnly: run.month_only === true, sessionId }),
    measuredWhPerKm: result.measured_wh_per_km as number,
  });
}
