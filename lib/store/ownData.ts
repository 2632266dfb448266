import { Prisma } from '@/prisma/generated/client';
import type { Queryable } from './database';

/** One table's rows that are of an account: which, in what order, and what of them is not handed out. */
interface Part {
  /** The file's name in the export. */
  name: string;
  table: string;
  /** With the account as $1. */
  where: string;
  order: string;
  without?: readonly string[];
}

const OF_OWN_RUNS = `"runId" IN (SELECT "id" FROM "Run" WHERE "testerId" = $1::uuid)`;
const OF_OWN_REVISIONS = `"revisionId" IN (SELECT "id" FROM "RunRevision" WHERE ${OF_OWN_RUNS})`;

/** Everything that is kept of an account, but for what guards it: hashes, keys and salts. */
export const OWN_PARTS: readonly Part[] = [
  {
    name: 'account',
    table: 'Account',
    where: '"id" = $1::uuid',
    order: '"id"',
    without: ['passwordHash', 'auditSalt'],
  },
  { name: 'sign-ins', table: 'SignIn', where: '"accountId" = $1::uuid', order: '"key"', without: ['key'] },
  {
    name: 'tokens',
    table: 'Token',
    where: `"accountId" = $1::uuid AND "kind" = 'api'`,
    order: '"createdAt", "hash"',
    without: ['hash'],
  },
  {
    name: 'requests-of-programs',
    table: 'KeptAnswer',
    where: '"accountId" = $1::uuid',
    order: '"askedAt", "route", "key"',
    without: ['requestHash'],
  },
  { name: 'providers', table: 'ExternalIdentity', where: '"accountId" = $1::uuid', order: '"provider"' },
  {
    name: 'second-factor',
    table: 'SecondFactor',
    where: '"accountId" = $1::uuid',
    order: '"accountId"',
    without: ['secret'],
  },
  { name: 'notices', table: 'Notification', where: '"accountId" = $1::uuid', order: '"id"' },
  { name: 'cars', table: 'Car', where: '"ownerId" = $1::uuid', order: '"id"' },
  {
    name: 'calibrations',
    table: 'InstrumentCalibration',
    where: '"carId" IN (SELECT "id" FROM "Car" WHERE "ownerId" = $1::uuid)',
    order: '"id"',
  },
  { name: 'loops', table: 'Loop', where: '"ownerId" = $1::uuid', order: '"id"' },
  { name: 'charging-sheets', table: 'ChargingSheet', where: '"statedById" = $1::uuid', order: '"id"' },
  { name: 'imports', table: 'ImportBatch', where: '"byId" = $1::uuid', order: '"id"' },
  { name: 'column-mappings', table: 'ColumnMapping', where: '"accountId" = $1::uuid', order: '"headerKey"' },
  { name: 'session-sheets', table: 'SessionSheet', where: '"testerId" = $1::uuid', order: '"id"' },
  { name: 'runs', table: 'Run', where: '"testerId" = $1::uuid', order: '"number"' },
  { name: 'revisions', table: 'RunRevision', where: OF_OWN_RUNS, order: '"id"' },
  { name: 'readings', table: 'Reading', where: OF_OWN_REVISIONS, order: '"revisionId", "quantity"' },
  { name: 'conditions', table: 'Conditions', where: OF_OWN_REVISIONS, order: '"revisionId"' },
  { name: 'findings', table: 'Finding', where: OF_OWN_REVISIONS, order: '"revisionId", "ruleId"' },
  {
    name: 'results',
    table: 'Normalisation',
    where: OF_OWN_REVISIONS,
    order: '"revisionId", "methodVersion"',
  },
  { name: 'photos', table: 'EvidenceFile', where: '"uploadedById" = $1::uuid', order: '"id"' },
  {
    name: 'recordings',
    table: 'Trace',
    where: '"uploadedById" = $1::uuid',
    order: '"id"',
    without: ['reduction'],
  },
  { name: 'suspensions', table: 'Suspension', where: '"accountId" = $1::uuid', order: '"id"' },
  { name: 'reports', table: 'PublicReport', where: '"byId" = $1::uuid', order: '"id"' },
  { name: 'appeals', table: 'Appeal', where: '"byId" = $1::uuid', order: '"revisionId"' },
  { name: 'corrections', table: 'Correction', where: '"proposedById" = $1::uuid', order: '"number"' },
  { name: 'studies', table: 'Study', where: '"ownerId" = $1::uuid', order: '"id"' },
  {
    name: 'study-plans',
    table: 'StudyVersion',
    where: '"madeById" = $1::uuid',
    order: '"studyId", "number"',
  },
  { name: 'studies-joined', table: 'StudyTester', where: '"accountId" = $1::uuid', order: '"studyId"' },
  { name: 'study-runs', table: 'StudyRun', where: '"addedById" = $1::uuid', order: '"runId"' },
  { name: 'requests', table: 'TestRequest', where: '"askedById" = $1::uuid', order: '"id"' },
  { name: 'requests-hidden', table: 'TestRequest', where: '"hiddenById" = $1::uuid', order: '"id"' },
  { name: 'requests-backed', table: 'RequestBacking', where: '"accountId" = $1::uuid', order: '"requestId"' },
  { name: 'guesses', table: 'StudyGuess', where: '"accountId" = $1::uuid', order: '"studyId"' },
  { name: 'protocol-drafts', table: 'ProtocolDraft', where: '"createdById" = $1::uuid', order: '"id"' },
  { name: 'own-decisions', table: 'Decision', where: '"reviewerId" = $1::uuid', order: '"id"' },
  {
    name: 'decisions-read-again',
    table: 'ReReview',
    where: '"reviewerId" = $1::uuid',
    order: '"decisionId"',
  },
  {
    name: 'readings-retyped',
    table: 'RetypedReading',
    where: '"reviewerId" = $1::uuid',
    order: '"revisionId", "quantity"',
  },
  { name: 'interests', table: 'DeclaredInterest', where: '"accountId" = $1::uuid', order: '"id"' },
  {
    name: 'log',
    table: 'AuditEntry',
    where: '"actorId" = $1::uuid OR "personalOf" = $1::uuid',
    order: '"id"',
    without: ['commitments'],
  },
];

/** A stretch of a part's rows, as JSON. */
export async function ownRows(
  db: Queryable,
  { table, where, order, without = [] }: Part,
  accountId: string,
  offset: number,
  take: number,
): Promise<object[]> {
  // Names of the list above alone: nothing here is anybody's to choose.
  const sql = `SELECT to_jsonb(t) - $2::text[] AS "row" FROM "${table}" t WHERE ${where} ORDER BY ${order} LIMIT $3 OFFSET $4`;
  const rows = await db.$queryRawUnsafe<{ row: object }[]>(sql, accountId, [...without], take, offset);
  return rows.map(({ row }) => row);
}

/** Digests of what an account has sent that is still kept, with a name for each: photos as kept, recordings as sent. */
export function ownFiles(db: Queryable, accountId: string, offset: number, take: number) {
  return db.$queryRaw<{ digest: string; name: string }[]>(Prisma.sql`
    SELECT * FROM (
      SELECT "sha256" AS "digest", 'photos/' || "id"::text || '.' || split_part("mime", '/', 2) AS "name"
        FROM "EvidenceFile" WHERE "uploadedById" = ${accountId}::uuid
      UNION ALL
      SELECT "sha256", 'recordings/' || "id"::text || '.' || "format"
        FROM "Trace" WHERE "uploadedById" = ${accountId}::uuid
    ) files ORDER BY "name" LIMIT ${take} OFFSET ${offset}`);
}
