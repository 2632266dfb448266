import { METHOD_VERSION, type NormalisationResult } from '@/lib/physics/normalise';
import { judgeRun } from '@/lib/protocol/judgeRun';
import { PROTOCOL_V1 } from '@/lib/protocol/versions/v1';
import { type Method, reduceRun } from '@/lib/reduction/reduceRun';
import { runParts } from '@/lib/reduction/runParts';
import type { ReductionSnapshot } from '@/lib/reduction/snapshot';
import { readSnapshot } from '@/lib/reduction/stored';
import { normalisationRow } from '@/lib/reduction/storedReduction';
import type { GoldenInput, Json } from './goldenTable';

const OWNERS = { sessionId: 'session', carId: 'car', loopId: 'loop', modelId: 'model', setupId: 'setup' };

const CIRCUMSTANCES = {
  evidenceKinds: ['startDisplay', 'finishDisplay'],
  pictures: [],
  photoTimes: [],
  duplicateOfRunNumber: undefined,
  now: '2026-11-01T12:00:00.000Z',
};

/** Every number and code of one case, without the words around them: words may be bettered within a version. */
export function goldenOutput({ snapshot: stored, adopted }: GoldenInput): Json {
  const snapshot = snapshotIn(stored);
  const method: Method =
    adopted === null
      ? { label: METHOD_VERSION, roadLoads: new Map() }
      : { label: adopted.label, roadLoads: new Map([[snapshot.model.id, adopted]]) };
  const reduced = reduceRun(snapshot, method);
  const record = { ...snapshot.record, notes: '', stationReport: undefined, inFront: undefined };
  const findings = judgeRun(record, reduced, CIRCUMSTANCES, PROTOCOL_V1);
  const { energy, distance, speed, legWind, trace, sources, normalisation } = reduced.reduction;
  const { result: _, ...columns } = normalisationRow(reduced);
  return withoutWords({
    columns,
    energy,
    distance,
    speed,
    legWind,
    trace,
    sources,
    result: resultNumbers(normalisation),
    checks: Object.fromEntries(reduced.checks.map((check) => [check.id, [check.outcome, check.numbers]])),
    findings: Object.fromEntries(
      findings.map(({ ruleId, outcome, numbers }) => [ruleId, [outcome, ...numbers.map((n) => n.value)]]),
    ),
    parts: runParts(OWNERS, normalisation),
  });
}

/** Of the version of today, whichever it was written in. */
export function snapshotIn(stored: unknown): ReductionSnapshot {
  const read = readSnapshot(stored);
  if (!read.ok) throw new Error(read.message);
  return read.snapshot;
}

function resultNumbers(result: NormalisationResult) {
  if (result.outcome === 'outsideReach') {
    return { ...result, reach: result.reach.reasons.map(({ code }) => code), findings: codes(result) };
  }
  const { steps, budget, scaleFinding, ...rest } = result;
  return {
    ...rest,
    findings: codes(result),
    scaleFinding: scaleFinding?.level ?? null,
    steps: Object.fromEntries(
      steps.map(({ name, deltaWhPerKm, factor, uWhPerKm }) => [name, [deltaWhPerKm, factor, uWhPerKm]]),
    ),
    budget: budget.map((entry) => [
      entry.input,
      entry.value,
      entry.u,
      entry.dof,
      entry.distribution,
      entry.scope,
      entry.sensitivity,
      entry.contributionWhPerKm,
    ]),
  };
}

const codes = ({ findings }: NormalisationResult) => findings.map(({ code }) => code);

const WORDS: ReadonlySet<string> = new Set(['words', 'label', 'message', 'refusal', 'reasonsNotUsed']);

/** Through JSON as the store keeps it; sentences become whether there is one. */
function withoutWords(value: unknown): Json {
  return JSON.parse(
    JSON.stringify(value, (key, each: unknown) =>
      WORDS.has(key) ? (Array.isArray(each) ? each.length : each !== null) : each,
    ),
  ) as Json;
}
