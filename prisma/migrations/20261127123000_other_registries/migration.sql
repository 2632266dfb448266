-- CreateEnum
CREATE TYPE "OtherSnapshotState" AS ENUM ('keyAsked', 'checking', 'shown', 'refused', 'replaced', 'removed');

-- CreateTable
CREATE TABLE "OtherRegistry" (
    "world" TEXT NOT NULL,
    "origin" TEXT NOT NULL,
    "keyId" TEXT,
    "publicKey" TEXT,
    "keyAcceptedAt" TIMESTAMPTZ(3),
    "keyReason" TEXT,

    CONSTRAINT "OtherRegistry_pkey" PRIMARY KEY ("world")
);

-- CreateTable
CREATE TABLE "OtherSnapshot" (
    "id" UUID NOT NULL,
    "world" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "theirWorld" TEXT NOT NULL,
    "asOf" TIMESTAMPTZ(3) NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "licence" TEXT NOT NULL,
    "keyId" TEXT NOT NULL,
    "publicKey" TEXT NOT NULL,
    "rows" JSONB NOT NULL,
    "receivedAt" TIMESTAMPTZ(3) NOT NULL,
    "state" "OtherSnapshotState" NOT NULL,
    "says" TEXT,
    "endedAt" TIMESTAMPTZ(3),

    CONSTRAINT "OtherSnapshot_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "OtherRow" (
    "snapshotId" UUID NOT NULL,
    "table" TEXT NOT NULL,
    "place" INTEGER NOT NULL,
    "key" TEXT NOT NULL,
    "under" TEXT,
    "row" JSONB NOT NULL,

    CONSTRAINT "OtherRow_pkey" PRIMARY KEY ("snapshotId","table","place")
);

-- CreateIndex
CREATE UNIQUE INDEX "OtherRegistry_origin_key" ON "OtherRegistry"("origin");

-- CreateIndex
CREATE INDEX "OtherSnapshot_world_receivedAt_idx" ON "OtherSnapshot"("world", "receivedAt");

-- CreateIndex
CREATE INDEX "OtherRow_snapshotId_table_under_place_idx" ON "OtherRow"("snapshotId", "table", "under", "place");

-- CreateIndex
CREATE UNIQUE INDEX "OtherRow_snapshotId_table_key_key" ON "OtherRow"("snapshotId", "table", "key");

-- AddForeignKey
ALTER TABLE "OtherSnapshot" ADD CONSTRAINT "OtherSnapshot_world_fkey" FOREIGN KEY ("world") REFERENCES "OtherRegistry"("world") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "OtherRow" ADD CONSTRAINT "OtherRow_snapshotId_fkey" FOREIGN KEY ("snapshotId") REFERENCES "OtherSnapshot"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Of other registries alone: never a world that runs are recorded in.
ALTER TABLE "OtherRegistry" ADD CONSTRAINT "OtherRegistry_world" CHECK ("world" ~ '^import:[a-z0-9]+(-[a-z0-9]+)*$');
-- An accepted key is whole: its digits, itself, when and why.
ALTER TABLE "OtherRegistry" ADD CONSTRAINT "OtherRegistry_key" CHECK (
  num_nonnulls("keyId", "publicKey", "keyAcceptedAt", "keyReason") IN (0, 4));
ALTER TABLE "OtherSnapshot" ADD CONSTRAINT "OtherSnapshot_sha256" CHECK ("sha256" ~ '^[0-9a-f]{64}$');

-- One is shown of a registry, and one is looked at.
CREATE UNIQUE INDEX "OtherSnapshot_one_shown" ON "OtherSnapshot"("world") WHERE "state" = 'shown';
CREATE UNIQUE INDEX "OtherSnapshot_one_open" ON "OtherSnapshot"("world") WHERE "state" IN ('keyAsked', 'checking');
