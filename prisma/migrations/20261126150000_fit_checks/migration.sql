-- What is asked of a fit once it stands. Fits made before are made anew, since their words do not ask yet whether a
-- difference rests on one tester; each new fit is then asked.
CREATE TABLE "FitCheck" (
    "fitId" UUID NOT NULL,
    "computedAt" TIMESTAMPTZ(3) NOT NULL,
    "durationMs" DOUBLE PRECISION NOT NULL,
    "result" JSONB NOT NULL,

    CONSTRAINT "FitCheck_pkey" PRIMARY KEY ("fitId")
);

ALTER TABLE "FitCheck" ADD CONSTRAINT "FitCheck_fitId_fkey" FOREIGN KEY ("fitId") REFERENCES "Fit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

INSERT INTO "Job" ("id", "kind", "key", "runAfter", "queuedAt")
SELECT gen_random_uuid(), 'refit', "ComparisonGroup"."world" || '/' || "ComparisonGroup"."cruiseClassKey", now(), now()
FROM "Fit" JOIN "ComparisonGroup" ON "ComparisonGroup"."id" = "Fit"."groupId"
WHERE "Fit"."isCurrent"
ON CONFLICT ON CONSTRAINT "Job_one_queued" DO NOTHING;
