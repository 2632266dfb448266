-- Levels that several models share, and what is concluded from them and from cars that drove at two speeds.
ALTER TABLE "FactorLevel" ADD COLUMN     "sharedLevelId" UUID;

CREATE TABLE "SharedLevel" (
    "id" UUID NOT NULL,
    "world" TEXT NOT NULL,
    "factor" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "isBaseline" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "SharedLevel_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "FitFactors" (
    "fitId" UUID NOT NULL,
    "computedAt" TIMESTAMPTZ(3) NOT NULL,
    "durationMs" DOUBLE PRECISION NOT NULL,
    "result" JSONB NOT NULL,

    CONSTRAINT "FitFactors_pkey" PRIMARY KEY ("fitId")
);

CREATE TABLE "CruiseSpeed" (
    "world" TEXT NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "computedAt" TIMESTAMPTZ(3) NOT NULL,
    "durationMs" DOUBLE PRECISION NOT NULL,
    "result" JSONB NOT NULL,

    CONSTRAINT "CruiseSpeed_pkey" PRIMARY KEY ("world")
);

CREATE UNIQUE INDEX "SharedLevel_world_factor_key_key" ON "SharedLevel"("world", "factor", "key");

CREATE UNIQUE INDEX "SharedLevel_id_factor_key" ON "SharedLevel"("id", "factor");

CREATE INDEX "FactorLevel_sharedLevelId_idx" ON "FactorLevel"("sharedLevelId");

CREATE INDEX "FactorLevel_factor_id_idx" ON "FactorLevel"("factor", "id");

ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_sharedLevelId_factor_fkey" FOREIGN KEY ("sharedLevelId", "factor") REFERENCES "SharedLevel"("id", "factor") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "FitFactors" ADD CONSTRAINT "FitFactors_fitId_fkey" FOREIGN KEY ("fitId") REFERENCES "Fit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "SharedLevel" ADD CONSTRAINT "SharedLevel_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "CruiseSpeed" ADD CONSTRAINT "CruiseSpeed_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');

-- At most one level of a factor that the others are held against, asked at the end of a transaction that moves it.
ALTER TABLE "SharedLevel" ADD CONSTRAINT "SharedLevel_one_baseline"
  EXCLUDE ("world" WITH =, "factor" WITH =) WHERE ("isBaseline") DEFERRABLE INITIALLY DEFERRED;

-- Cruise speed needs no mapping: what stands is concluded once for each world that has a fit.
INSERT INTO "Job" ("id", "kind", "key", "runAfter", "queuedAt")
SELECT gen_random_uuid(), 'concludeFactors', "world", now(), now()
FROM (SELECT DISTINCT "ComparisonGroup"."world" FROM "Fit"
  JOIN "ComparisonGroup" ON "ComparisonGroup"."id" = "Fit"."groupId" WHERE "Fit"."isCurrent") fitted
ON CONFLICT ON CONSTRAINT "Job_one_queued" DO NOTHING;
