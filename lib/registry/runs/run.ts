import { may } from '@/lib/access/permissions';
import type { DisplayScale } from '@/lib/physics/displayScale';
import { monteCarloRun, type RunSimulation } from '@/lib/physics/monteCarlo';
import { type WindLeft, windLeftOnRun } from '@/lib/physics/runWind';
import { wordsOfRule } from '@/lib/protocol/rules/allRules';
import { type ShownFindings, shownFindings, withoutWhen } from '@/lib/protocol/runFindings';
import {
  type AuditStep,
  auditSteps,
  type Person,
  type TrailRevision,
  type TrailStep,
  trailRevisions,
  trailSteps,
  withoutPending,
} from '@/lib/protocol/runTrail';
import { runParts, sharedContributions } from '@/lib/reduction/runParts';
import { type RunResult, storedResult } from '@/lib/reduction/runResult';
import {
  type ShownPhoto,
  type ShownReading,
  shownPhotos,
  shownReadings,
} from '@/lib/run/fields/shownReadings';
import { modelWords } from '@/lib/run/modelWords';
import { monthOfText, publishedText } from '@/lib/run/publishedDay';
import type { Actor } from '@/lib/run/roles';
import { HOLDABLE_STATUSES, PUBLIC_RUN_STATUSES, type RunStatus, statusAfter } from '@/lib/run/runStatus';
import { type WorldKey, worldKey } from '@/lib/run/world';
import { auditTrailOf, countAuditTrail } from '@/lib/store/audit';
import { openCorrectionsOfRun } from '@/lib/store/correctionRuns';
import { type DossierRevision, type RunDossier, runDossier } from '@/lib/store/runDossier';
import { recordPrivateRead } from '../audit/recordAct';
import { displayOfCar } from '../cars/carDisplay';
import { shownLabel } from '../counted/countedLabel';
import { keyPart, type Page, readPage } from '../keyset';
import type { Registry } from '../registry';
import { type RunStanding, runStanding, type STANDING_DUE } from '../review/runStanding';

/** Draws and seed of the check by simulation: the same for every reader, so that they see the same digits. */
const CHECK = { draws: 10_000, seed: 101 } as const;

const LOG_PAGE = 25;

export interface RunOptions {
  withSimulation?: boolean;
  /** Cursor of the log. */
  logFrom?: string | undefined;
}

export interface RunSubject {
  tester: Person;
  model: { slug: string; name: string };
  /** A car's own name is its tester's affair: null for readers. */
  carName: string | null;
  /** As stewards curate it: null for everybody else. */
  curatedCarId: string | null;
  setup: { slug: string; title: string };
  loop: { slug: string; name: string; region: string; lengthM: number; lengthUncertaintyM: number };
  classLabel: string;
  /** yyyy-mm-dd; yyyy-mm for readers where its tester publishes no more. */
  localDate: string;
  /** Null where no more than the month is told: then all times of the view are months. */
  startedAt: string | null;
  utcOffsetMin: number;
}

/** Everything about one revision of a run that its page and its review show. */
export interface RunView {
  runId: string;
  number: number;
  status: RunStatus;
  isClaimed: boolean;
  /** One reviewer has approved it, and another one is waited for. */
  awaitsSecond: boolean;
  world: WorldKey;
  isPublic: boolean;
  revisionNumber: number;
  subject: RunSubject;
  readings: ShownReading[];
  notes: string;
  isRetrospective: boolean;
  choices: { trueSpeedMethod: string; climate: string; chargerKind: string | null; inFront: string | null };
  conditions: DossierRevision['conditions'];
  photos: ShownPhoto[];
  findings: ShownFindings;
  result: RunResult | undefined;
  /** Something was computed, but cannot be read any more. */
  isResultUnreadable: boolean;
  windLeft: WindLeft | null;
  simulation: RunSimulation | null;
  /** Of its car's energy display; null while nothing can be said, and for a run without a number. */
  displayScale: DisplayScale | null;
  standing: RunStanding | typeof STANDING_DUE | null;
  steps: TrailStep[];
  revisions: TrailRevision[];
  /** The log of the run, the latest step first. */
  audit: Page<AuditStep> & { total: number };
  retraction: { reason: string; at: string; by: Person } | null;
  /** What keeps it from counting, where anything does. */
  hold: { reason: string; at: string; by: Person | null } | null;
  /** What would fail by the protocol in force, where it was judged again and anything would. */
  today: { protocolLabel: string; failing: { ruleId: string; title: string; sentence: string }[] } | null;
  /** Corrections that are not decided; what they would make of it only for who may see them. */
  corrections: { number: number; before: number | null; after: number | null; isSeen: boolean }[];
  supersededByNumber: number | null;
  supersedesNumber: number | null;
  allowed: {
    withdraw: boolean;
    retract: boolean;
    edit: boolean;
    review: boolean;
    appeal: boolean;
    hold: boolean;
    correct: boolean;
    /** To go on with the other runs of its day. */
    goOn: boolean;
  };
}

/** Whether this reader may see the run at all: public ones anyone, the rest their tester and reviewers. */
export function isVisible(
  actor: Actor | undefined,
  run: { status: RunStatus; testerId: string; world: string },
): boolean {
  return (
    PUBLIC_RUN_STATUSES.includes(run.status) ||
    may(actor, 'readPrivateRun', run.testerId, worldKey(run.world))
  );
}

/** Whether somebody reads what only its tester and reviewers may: such readings are told in the log. */
export function isPrivateToAnother(
  actor: Actor | undefined,
  run: { status: RunStatus; testerId: string },
): boolean {
  return !PUBLIC_RUN_STATUSES.includes(run.status) && actor?.accountId !== run.testerId;
}

/** A run for its page; undefined where it does not exist for this reader, or was never submitted. */
export async function readRun(
  registry: Registry,
  actor: Actor | undefined,
  number: number,
  options: RunOptions = {},
): Promise<RunView | undefined> {
  const run = await runDossier(registry.db, number);
  if (run === null || !isVisible(actor, run)) return undefined;
  return composeRun(registry, actor, run, options);
}

/** The view of a run that was already read and whose reader was already judged. */
export async function composeRun(
  registry: Registry,
  actor: Actor | undefined,
  found: RunDossier,
  options: RunOptions = {},
): Promise<RunView | undefined> {
  const run = withoutPending(found);
  const isPublic = PUBLIC_RUN_STATUSES.includes(run.status);
  const revision = isPublic
    ? run.revisions.find((candidate) => candidate.number === run.approvedRevision)
    : run.revisions.at(-1);
  const isInside = may(actor, 'readPrivateRun', run.testerId, worldKey(run.world));
  const isCoarse = run.monthOnly && !isInside;
  const subject =
    revision &&
    subjectOf(run, revision, {
      isInside,
      isCoarse,
      mayCurate: may(actor, 'curateNames', undefined, worldKey(run.world)),
    });
  if (revision === undefined || subject === undefined) return undefined;
  if (isPrivateToAnother(actor, run)) await recordPrivateRead(registry, actor, { kind: 'run', id: run.id });
  const result = storedResult(revision.normalisations, await shownLabel(registry.db, worldKey(run.world)));
  const normalised = result?.normalisation.outcome === 'normalised' ? result.normalisation : undefined;
  const [standing, displayScale, audit] = await Promise.all([
    standingOf(registry, run, result),
    normalised && run.carId
      ? displayOfCar(registry.db, { carId: run.carId, world: worldKey(run.world) })
      : null,
    logOf(
      registry,
      run.id,
      isCoarse ? undefined : options.logFrom,
      run.firstApprovalById === null ? undefined : (run.submittedAt ?? undefined),
    ),
  ]);
  const told = (at: string) => (isCoarse ? monthOfText(at) : at);
  const isWith = (event: 'withdraw' | 'retract' | 'submit' | 'appeal') =>
    statusAfter(run.status, event) !== undefined;
  return {
    runId: run.id,
    number: run.number,
    status: run.status,
    awaitsSecond: run.firstApprovalById !== null,
    isClaimed: run.status === 'submitted' && run.claims.some((claim) => claim.releasedAt === null),
    world: worldKey(run.world),
    isPublic,
    revisionNumber: revision.number,
    subject,
    readings: shownReadings(revision.readings),
    notes: revision.notes,
    isRetrospective: revision.isRetrospective,
    choices: {
      trueSpeedMethod: revision.trueSpeedMethod,
      climate: revision.climate,
      chargerKind: revision.chargerKind,
      inFront: inFrontOf(revision.form),
    },
    // a station's report begins with its time
    conditions:
      isCoarse && revision.conditions ? { ...revision.conditions, stationReport: null } : revision.conditions,
    photos: shownPhotos(revision.evidence).map((photo) => (isCoarse ? untimed(photo) : photo)),
    findings: shownFindings(
      isCoarse ? withoutWhen(revision.findings) : revision.findings,
      revision.protocolVersion.label,
    ),
    result,
    isResultUnreadable: result === undefined && revision.normalisations.length > 0,
    windLeft: result && normalised ? windLeftOnRun(result.case, normalised) : null,
    simulation: options.withSimulation && result && normalised ? monteCarloRun(result.case, CHECK) : null,
    standing,
    displayScale,
    steps: trailSteps(run).map((step) => ({ ...step, at: told(step.at) })),
    revisions: trailRevisions(run.revisions).map((one) => toldRevision(one, told)),
    audit: isCoarse ? untimedLog(audit) : audit,
    retraction: run.retraction
      ? {
          reason: run.retraction.reason,
          at: told(run.retraction.retractedAt.toISOString()),
          by: run.retraction.by,
        }
      : null,
    hold: openHold(run.holds, told),
    today: todayOf(revision),
    corrections: (await openCorrectionsOfRun(registry.db, run.id)).map(
      ({ correction, beforeWhPerKm, afterWhPerKm }) => ({
        number: correction.number,
        before: isInside ? beforeWhPerKm : null,
        after: isInside ? afterWhPerKm : null,
        isSeen: isInside,
      }),
    ),
    supersededByNumber: run.supersededBy?.number ?? null,
    supersedesNumber: run.supersedes?.number ?? null,
    allowed: {
      withdraw: isWith('withdraw') && may(actor, 'editRun', run.testerId),
      retract: isWith('retract') && may(actor, 'retractRun', run.testerId, worldKey(run.world)),
      appeal: isWith('appeal') && revision.appeal === null && may(actor, 'appealRun', run.testerId),
      correct: run.status === 'approved' && may(actor, 'editRun', run.testerId),
      goOn: may(actor, 'editRun', run.testerId),
      edit: isWith('submit') && may(actor, 'editRun', run.testerId),
      hold:
        HOLDABLE_STATUSES.includes(run.status) && may(actor, 'holdRun', run.testerId, worldKey(run.world)),
      review: run.status === 'submitted' && may(actor, 'reviewRun', run.testerId, worldKey(run.world)),
    },
  };
}

/** Its name as a row tells to the millisecond when it was sent. */
function untimed(photo: ShownPhoto): ShownPhoto {
  return { ...photo, id: photo.sha256, capturedAt: null };
}

function toldRevision(revision: TrailRevision, told: (at: string) => string): TrailRevision {
  return {
    ...revision,
    submittedAt: told(revision.submittedAt),
    appeal: revision.appeal && { ...revision.appeal, at: told(revision.appeal.at) },
    decisions: revision.decisions.map((decision) => ({ ...decision, at: told(decision.at) })),
  };
}

/** Its latest page alone, since a place in the log is a time: entries of other things stand before and after it. */
function untimedLog({ total, rows }: RunView['audit']): RunView['audit'] {
  return {
    total,
    rows: rows.map((step, place) => ({ ...step, id: String(place), at: monthOfText(step.at) })),
    previous: undefined,
    next: undefined,
  };
}

function openHold(holds: RunDossier['holds'], told: (at: string) => string): RunView['hold'] {
  const open = holds.find(({ liftedAt }) => liftedAt === null);
  return open === undefined
    ? null
    : { reason: open.reason, at: told(open.placedAt.toISOString()), by: open.placedBy };
}

function todayOf({ judgement }: DossierRevision): RunView['today'] {
  if (judgement === null || judgement.failed.length === 0) return null;
  return {
    protocolLabel: judgement.protocolVersion.label,
    failing: judgement.failed.map(({ ruleId, sentence }) => ({
      ruleId,
      title: wordsOfRule(ruleId).title,
      sentence,
    })),
  };
}

async function logOf(
  registry: Registry,
  runId: string,
  from: string | undefined,
  namelessFrom: Date | undefined,
): Promise<RunView['audit']> {
  const subject = { kind: 'run', id: runId };
  const [page, total] = await Promise.all([
    readPage(from, {
      size: LOG_PAGE,
      key: keyPart.bigint,
      read: (place, take) => auditTrailOf(registry.db, subject, place, take),
      keyOf: ({ id }) => String(id),
    }),
    countAuditTrail(registry.db, subject),
  ]);
  return { ...page, total, rows: auditSteps(page.rows, namelessFrom) };
}

function subjectOf(
  run: RunDossier,
  revision: DossierRevision,
  { isInside, isCoarse, mayCurate }: { isInside: boolean; isCoarse: boolean; mayCurate: boolean },
): RunSubject | undefined {
  if (run.car === null || run.setup === null || run.loop === null || run.cruiseClass === null)
    return undefined;
  return {
    tester: run.tester,
    model: { slug: run.car.model.slug, name: modelWords(run.car.model) },
    carName: isInside ? run.car.name : null,
    curatedCarId: mayCurate ? run.carId : null,
    setup: run.setup,
    loop: run.loop,
    classLabel: run.cruiseClass.label,
    localDate: publishedText(revision.localDate, isCoarse),
    startedAt: isCoarse ? null : revision.startedAt.toISOString(),
    utcOffsetMin: revision.utcOffsetMin,
  };
}

/** Where the run falls among the others; null where it has no number. */
export async function standingOf(
  registry: Registry,
  run: RunDossier,
  result: RunResult | undefined,
): Promise<RunStanding | typeof STANDING_DUE | null> {
  const normalisation = result?.normalisation;
  if (result === undefined || normalisation?.outcome !== 'normalised') return null;
  const { setupId, carId, loopId, sessionId, cruiseClassKey, car } = run;
  if (!setupId || !carId || !loopId || !sessionId || !cruiseClassKey || car === null) return null;
  return runStanding(registry, {
    runId: run.id,
    number: run.number,
    setupId,
    carId,
    loopId,
    sessionId,
    cruiseClassKey,
    modelId: car.model.id,
    world: worldKey(run.world),
    methodVersion: result.methodVersion,
    normalisedWhPerKm: normalisation.normalisedWhPerKm,
    uWhPerKm: normalisation.uWhPerKm,
    uRunRelative: normalisation.uByScope.run / normalisation.normalisedWhPerKm,
    shared: sharedContributions(
      runParts({ setupId, carId, loopId, sessionId, modelId: car.model.id }, normalisation),
    ),
  });
}

/** Kept with the form alone, as nothing is computed or judged by it; null where it was not asked or not said. */
function inFrontOf(form: Readonly<Record<string, string>>): string | null {
  return form.inFront?.trim() || null;
}
