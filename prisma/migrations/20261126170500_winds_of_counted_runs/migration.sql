-- AlterTable
ALTER TABLE "CountedRun" ADD COLUMN     "windFromDeg" DOUBLE PRECISION,
ADD COLUMN     "windSpeedMps" DOUBLE PRECISION;

-- What rows from before did not hold: the wind of the revision that counts.
UPDATE "CountedRun" counted
SET "windSpeedMps" = conditions."windSpeedMps", "windFromDeg" = conditions."windFromDeg"
FROM "Run" run
JOIN "RunRevision" revision ON revision."runId" = run."id" AND revision."number" = run."approvedRevision"
JOIN "Conditions" conditions ON conditions."revisionId" = revision."id"
WHERE run."id" = counted."runId";
