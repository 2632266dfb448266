import type pg from 'pg';
import type { Row, Table } from '@/lib/openData/column';
import {
  contrastRow,
  estimateRow,
  fitRow,
  type PublishedContrast,
  type PublishedEstimate,
} from '@/lib/openData/fitRows';
import { conditionsOf, inputRow, readingsOf, recordingRow } from '@/lib/openData/inputRows';
import { asMonthBegan, withoutTime } from '@/lib/openData/publishedInputs';
import { resultRow } from '@/lib/openData/resultRow';
import type { Method } from '@/lib/reduction/reduceRun';
import type { RunPart } from '@/lib/reduction/runParts';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { readParts, readReduction, readSnapshot } from '@/lib/reduction/stored';
import type { WorldKey } from '@/lib/run/world';
import { readFitBasis, readFitSummary } from '@/lib/stats/stored';
import {
  keptContrasts,
  keptEstimates,
  keptFits,
  keptInputs,
  keptResults,
  plainRows,
} from '@/lib/store/openData';

/** One moment of one world, seen through a transaction. */
export interface Seen {
  client: pg.ClientBase;
  world: WorldKey;
  method: Method;
}

/** The rows of a table, in the order of its key. */
export function rowsOf(table: Table, seen: Seen): AsyncIterable<Row> | Iterable<Row> {
  const plain = plainRows(seen.client, table.name, seen.world);
  if (plain !== undefined) return plain;
  switch (table.name) {
    case 'road_loads':
      return roadLoadRows(seen.method);
    case 'readings':
      return fromInputs(seen, ({ run, snapshot }) => readingsOf(run, snapshot));
    case 'conditions':
      return fromInputs(seen, ({ run, snapshot }) => [conditionsOf(run, snapshot)]);
    case 'inputs':
      return fromInputs(seen, ({ run, snapshot, origin }) => [inputRow(run, snapshot, origin)]);
    case 'recordings':
      return fromInputs(seen, ({ run, snapshot }) => recordingRow(run, snapshot) ?? []);
    case 'results':
      return resultRows(seen);
    case 'fits':
      return fitRows(seen);
    case 'estimates':
      return estimateRows(seen);
    case 'contrasts':
      return contrastRows(seen);
    default:
      throw new Error(`nobody knows where the rows of ${table.name} come from`);
  }
}

function roadLoadRows({ roadLoads }: Method): Row[] {
  return [...roadLoads]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([model_id, { label, runs, posterior, levels }]) => ({
      model_id,
      adopted_in: label,
      runs,
      mean: posterior.mean,
      covariance: posterior.covariance,
      levels,
    }));
}

interface ReadInputs {
  run: number;
  snapshot: ReductionSnapshot;
  origin: string;
}

async function* fromInputs(
  { client, world }: Seen,
  rows: (inputs: ReadInputs) => Row[] | Row,
): AsyncGenerator<Row> {
  for await (const { run, monthOnly, snapshot, origin } of keptInputs(client, world)) {
    const read = readSnapshot(snapshot);
    // What cannot be read made no number that could be shown either.
    if (!read.ok) continue;
    const published = monthOnly ? asMonthBegan(read.snapshot) : read.snapshot;
    const made = rows({ run, snapshot: published, origin });
    yield* Array.isArray(made) ? (made as Row[]) : [made as Row];
  }
}

async function* resultRows({ client, world, method }: Seen): AsyncGenerator<Row> {
  for await (const { run, result, parts, hiddenSessionId } of keptResults(client, world, method.label)) {
    const read = readReduction(result);
    if (read === undefined) continue;
    const shared = parts === null ? undefined : readParts(parts);
    yield resultRow(run, read, shared?.map((part) => published(part, hiddenSessionId)) ?? null);
  }
}

function published(part: RunPart, hiddenSessionId: string | null): RunPart {
  if (hiddenSessionId === null) return part;
  return { ...part, key: part.key.replaceAll(hiddenSessionId, withoutTime(hiddenSessionId)) };
}

async function* fitRows({ client, world }: Seen): AsyncGenerator<Row> {
  for (const { summary, basis, ...about } of await keptFits(client, world)) {
    const read = { summary: readFitSummary(summary), basis: readFitBasis(basis) };
    if (read.summary === undefined || read.basis === undefined)
      throw new Error(`the fit of ${about.cruiseClassKey} cannot be read`);
    yield fitRow(about, read.summary, read.basis);
  }
}

async function* estimateRows({ client, world }: Seen): AsyncGenerator<Row> {
  for await (const { cruiseClassKey, ...estimate } of keptEstimates(client, world))
    yield estimateRow(cruiseClassKey, estimate as unknown as PublishedEstimate);
}

async function* contrastRows({ client, world }: Seen): AsyncGenerator<Row> {
  for await (const { cruiseClassKey, ...contrast } of keptContrasts(client, world))
    yield contrastRow(cruiseClassKey, contrast as unknown as PublishedContrast);
}
