import { readCase } from '@/lib/physics/stored';
import { readFindingNumbers, readSaid } from '@/lib/protocol/stored';
import { readReduction } from '@/lib/reduction/stored';
import { readForm, readMarks } from '@/lib/run/stored';
import type { Prisma } from '@/prisma/generated/client';
import { readFindings } from './correctionRuns';
import type { Queryable } from './database';
import { HOLDS_OF_RUN } from './holds';
import { MODEL_NAME, PERSON, PHOTO } from './names';

/** Everything that the page of one run shows, of all its revisions. */
export async function runDossier(db: Queryable, number: number) {
  const found = await db.run.findUnique({
    where: { number },
    select: {
      id: true,
      number: true,
      testerId: true,
      status: true,
      world: true,
      monthOnly: true,
      submittedAt: true,
      decidedAt: true,
      approvedRevision: true,
      round: true,
      firstApprovalById: true,
      setupId: true,
      carId: true,
      loopId: true,
      sessionId: true,
      cruiseClassKey: true,
      tester: { select: PERSON },
      car: { select: { name: true, model: { select: { ...MODEL_NAME, id: true, bodyClass: true } } } },
      setup: { select: { slug: true, title: true } },
      loop: { select: { slug: true, name: true, region: true, lengthM: true, lengthUncertaintyM: true } },
      cruiseClass: { select: { label: true } },
      supersededBy: { select: { number: true } },
      supersedes: { select: { number: true } },
      retraction: { select: { reason: true, retractedAt: true, by: { select: PERSON } } },
      holds: HOLDS_OF_RUN,
      claims: {
        orderBy: { claimedAt: 'asc' },
        select: { reviewerId: true, claimedAt: true, releasedAt: true, reviewer: { select: PERSON } },
      },
      revisions: { orderBy: { number: 'asc' }, select: REVISION },
    },
  });
  return found && { ...found, revisions: found.revisions.map(readRevision) };
}

const REVISION = {
  id: true,
  number: true,
  submittedAt: true,
  submittedBy: { select: PERSON },
  form: true,
  startedAt: true,
  utcOffsetMin: true,
  localDate: true,
  trueSpeedMethod: true,
  climate: true,
  chargerKind: true,
  isRetrospective: true,
  notes: true,
  protocolVersion: { select: { label: true } },
  correction: { select: { number: true, reason: true } },
  judgement: { select: { failed: true, methodVersion: true, protocolVersion: { select: { label: true } } } },
  readings: {
    select: {
      quantity: true,
      moment: true,
      instrument: true,
      enteredText: true,
      enteredUnit: true,
      value: true,
      low: true,
      high: true,
    },
  },
  conditions: {
    select: {
      source: true,
      airTemperatureC: true,
      airTemperatureUC: true,
      pressurePa: true,
      pressureKind: true,
      relativeHumidity: true,
      dewPointC: true,
      windSpeedMps: true,
      windFromDeg: true,
      windGustMps: true,
      stationDistanceM: true,
      precipitation: true,
      road: true,
      traffic: true,
      closeFollowing: true,
      stationReport: true,
    },
  },
  evidence: {
    orderBy: { evidence: { uploadedAt: 'asc' } },
    select: { marks: true, evidence: { select: PHOTO } },
  },
  findings: {
    select: {
      ruleId: true,
      outcome: true,
      numbers: true,
      sentence: true,
      said: true,
      protocolVersion: { select: { label: true } },
    },
  },
  normalisations: {
    orderBy: { computedAt: 'desc' },
    select: {
      methodVersion: true,
      computedAt: true,
      input: true,
      result: true,
      isNormalised: true,
      measuredWhPerKm: true,
      normalisedWhPerKm: true,
      uWhPerKm: true,
    },
  },
  appeal: { select: { words: true, appealedAt: true, by: { select: PERSON } } },
  decisions: {
    orderBy: { decidedAt: 'asc' },
    select: {
      kind: true,
      note: true,
      decidedAt: true,
      round: true,
      secondFor: true,
      reviewer: { select: PERSON },
      reasons: { select: { ruleId: true, text: true } },
    },
  },
} as const satisfies Prisma.RunRevisionSelect;

type StoredRevision = Prisma.RunRevisionGetPayload<{ select: typeof REVISION }>;

function readRevision({ form, evidence, findings, normalisations, judgement, ...revision }: StoredRevision) {
  return {
    ...revision,
    judgement: judgement && { ...judgement, failed: readFindings(judgement.failed) },
    form: readForm(form),
    evidence: evidence.map(({ marks, ...photo }) => ({ ...photo, marks: readMarks(marks) })),
    findings: findings.map((finding) => ({
      ...finding,
      numbers: readFindingNumbers(finding.numbers),
      said: readSaid(finding.said),
    })),
    normalisations: normalisations.map(({ input, result, ...row }) => ({
      ...row,
      input: readCase(input),
      result: readReduction(result),
    })),
  };
}

export type RunDossier = NonNullable<Awaited<ReturnType<typeof runDossier>>>;

export type DossierRevision = RunDossier['revisions'][number];

/** The normalisation input of the shown revision alone, for the download. */
export async function runCases(db: Queryable, number: number) {
  const found = await db.run.findUnique({
    where: { number },
    select: {
      id: true,
      testerId: true,
      status: true,
      world: true,
      approvedRevision: true,
      revisions: {
        orderBy: { number: 'desc' },
        select: {
          number: true,
          normalisations: {
            orderBy: { computedAt: 'desc' },
            take: 1,
            select: { input: true, methodVersion: true },
          },
        },
      },
    },
  });
  return (
    found && {
      ...found,
      revisions: found.revisions.map(({ number: revision, normalisations: [newest] }) => ({
        number: revision,
        normalisation: newest && { methodVersion: newest.methodVersion, input: readCase(newest.input) },
      })),
    }
  );
}
