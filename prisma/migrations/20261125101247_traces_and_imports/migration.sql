-- AlterTable
ALTER TABLE "Run" ADD COLUMN     "importBatchId" UUID;

-- AlterTable
ALTER TABLE "RunRevision" ADD COLUMN     "traceId" UUID;

-- CreateTable
CREATE TABLE "Trace" (
    "id" UUID NOT NULL,
    "uploadedById" UUID NOT NULL,
    "runId" UUID,
    "fileName" TEXT NOT NULL,
    "format" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "pointsRead" INTEGER NOT NULL,
    "pointsUsed" INTEGER NOT NULL,
    "reduction" JSONB NOT NULL,
    "publicTrack" JSONB NOT NULL,
    "uploadedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "removedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Trace_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ImportBatch" (
    "id" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "fileName" TEXT NOT NULL,
    "mode" TEXT NOT NULL,
    "rowsRead" INTEGER NOT NULL,
    "rowsMade" INTEGER NOT NULL,
    "rowsRefused" INTEGER NOT NULL,
    "report" JSONB NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "undoneAt" TIMESTAMPTZ(3),

    CONSTRAINT "ImportBatch_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ColumnMapping" (
    "accountId" UUID NOT NULL,
    "headerKey" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "mapping" JSONB NOT NULL,
    "usedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "ColumnMapping_pkey" PRIMARY KEY ("accountId","kind","headerKey")
);

-- CreateIndex
CREATE INDEX "Trace_runId_idx" ON "Trace"("runId");

-- CreateIndex
CREATE INDEX "Trace_uploadedById_idx" ON "Trace"("uploadedById");

-- CreateIndex
CREATE INDEX "ImportBatch_byId_idx" ON "ImportBatch"("byId");

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_importBatchId_fkey" FOREIGN KEY ("importBatchId") REFERENCES "ImportBatch"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RunRevision" ADD CONSTRAINT "RunRevision_traceId_fkey" FOREIGN KEY ("traceId") REFERENCES "Trace"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Trace" ADD CONSTRAINT "Trace_uploadedById_fkey" FOREIGN KEY ("uploadedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Trace" ADD CONSTRAINT "Trace_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ImportBatch" ADD CONSTRAINT "ImportBatch_byId_fkey" FOREIGN KEY ("byId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ColumnMapping" ADD CONSTRAINT "ColumnMapping_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "Trace" ADD CONSTRAINT "Trace_format" CHECK ("format" IN ('gpx', 'csv', 'geojson'));
ALTER TABLE "Trace" ADD CONSTRAINT "Trace_hash" CHECK ("sha256" ~ '^[0-9a-f]{64}$');
ALTER TABLE "Trace" ADD CONSTRAINT "Trace_counts" CHECK ("pointsRead" >= "pointsUsed" AND "pointsUsed" >= 2);
ALTER TABLE "ImportBatch" ADD CONSTRAINT "ImportBatch_counts"
  CHECK ("rowsRead" >= 0 AND "rowsMade" >= 0 AND "rowsRefused" >= 0 AND "rowsMade" + "rowsRefused" <= "rowsRead");
