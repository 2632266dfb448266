-- What a fit was made with beside its runs. Fits made before are made anew, so that a snapshot can say it of each.
ALTER TABLE "Fit" ADD COLUMN     "basis" JSONB;

INSERT INTO "Job" ("id", "kind", "key", "runAfter", "queuedAt")
SELECT gen_random_uuid(), 'refit', "ComparisonGroup"."world" || '/' || "ComparisonGroup"."cruiseClassKey", now(), now()
FROM "Fit" JOIN "ComparisonGroup" ON "ComparisonGroup"."id" = "Fit"."groupId"
WHERE "Fit"."isCurrent"
ON CONFLICT ON CONSTRAINT "Job_one_queued" DO NOTHING;

-- CreateTable
CREATE TABLE "Snapshot" (
    "id" UUID NOT NULL,
    "world" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "sizeBytes" BIGINT NOT NULL,
    "dataSha256" TEXT NOT NULL,
    "keyId" TEXT NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "licence" TEXT NOT NULL,
    "asOf" TIMESTAMPTZ(3) NOT NULL,
    "publishedAt" TIMESTAMPTZ(3) NOT NULL,
    "rows" JSONB NOT NULL,

    CONSTRAINT "Snapshot_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "Snapshot_name_key" ON "Snapshot"("name");

-- CreateIndex
CREATE UNIQUE INDEX "Snapshot_world_number_key" ON "Snapshot"("world", "number");

ALTER TABLE "Snapshot" ADD CONSTRAINT "Snapshot_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "Snapshot" ADD CONSTRAINT "Snapshot_sha256" CHECK ("sha256" ~ '^[0-9a-f]{64}$' AND "dataSha256" ~ '^[0-9a-f]{64}$');

-- A published snapshot stays what it is.
CREATE TRIGGER "Snapshot_append_only" BEFORE UPDATE OR DELETE ON "Snapshot"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Snapshot_never_emptied" BEFORE TRUNCATE ON "Snapshot"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
