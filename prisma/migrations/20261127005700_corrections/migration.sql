-- Corrections of what runs were computed from, each a bundle that is decided on as a whole.
-- CreateEnum
CREATE TYPE "CorrectionState" AS ENUM ('computing', 'waiting', 'approved', 'rejected', 'withdrawn');

-- AlterTable
ALTER TABLE "RunRevision" ADD COLUMN     "correctionId" UUID;

-- CreateTable
CREATE TABLE "Correction" (
    "id" UUID NOT NULL,
    "number" SERIAL NOT NULL,
    "world" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "change" JSONB NOT NULL,
    "reason" TEXT NOT NULL,
    "state" "CorrectionState" NOT NULL DEFAULT 'computing',
    "proposedById" UUID NOT NULL,
    "proposedAt" TIMESTAMPTZ(3) NOT NULL,
    "computation" INTEGER NOT NULL DEFAULT 0,
    "computedAt" TIMESTAMPTZ(3),
    "fingerprint" TEXT,
    "fault" TEXT,
    "decidedById" UUID,
    "decidedAt" TIMESTAMPTZ(3),
    "decision" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "Correction_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "CorrectionRun" (
    "correctionId" UUID NOT NULL,
    "runId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "testerId" UUID NOT NULL,
    "isCounted" BOOLEAN NOT NULL,
    "baseId" UUID NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "beforeWhPerKm" DOUBLE PRECISION,
    "beforeUWhPerKm" DOUBLE PRECISION,
    "afterWhPerKm" DOUBLE PRECISION,
    "afterUWhPerKm" DOUBLE PRECISION,
    "failsBefore" INTEGER NOT NULL,
    "failsAfter" INTEGER NOT NULL,
    "cautionsBefore" INTEGER NOT NULL,
    "cautionsAfter" INTEGER NOT NULL,
    "snapshot" JSONB NOT NULL,
    "result" JSONB NOT NULL,
    "findings" JSONB NOT NULL,

    CONSTRAINT "CorrectionRun_pkey" PRIMARY KEY ("correctionId","runId")
);

-- CreateIndex
CREATE UNIQUE INDEX "Correction_number_key" ON "Correction"("number");

-- CreateIndex
CREATE INDEX "Correction_state_number_idx" ON "Correction"("state", "number");

-- CreateIndex
CREATE INDEX "Correction_proposedById_number_idx" ON "Correction"("proposedById", "number");

-- CreateIndex
CREATE INDEX "Correction_subjectId_number_idx" ON "Correction"("subjectId", "number");

-- CreateIndex
CREATE INDEX "CorrectionRun_correctionId_number_idx" ON "CorrectionRun"("correctionId", "number");

-- CreateIndex
CREATE INDEX "CorrectionRun_runId_idx" ON "CorrectionRun"("runId");

-- CreateIndex
CREATE INDEX "CorrectionRun_baseId_idx" ON "CorrectionRun"("baseId");

-- CreateIndex
CREATE INDEX "RunRevision_correctionId_idx" ON "RunRevision"("correctionId");

-- AddForeignKey
ALTER TABLE "RunRevision" ADD CONSTRAINT "RunRevision_correctionId_fkey" FOREIGN KEY ("correctionId") REFERENCES "Correction"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Correction" ADD CONSTRAINT "Correction_proposedById_fkey" FOREIGN KEY ("proposedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Correction" ADD CONSTRAINT "Correction_decidedById_fkey" FOREIGN KEY ("decidedById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CorrectionRun" ADD CONSTRAINT "CorrectionRun_correctionId_fkey" FOREIGN KEY ("correctionId") REFERENCES "Correction"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CorrectionRun" ADD CONSTRAINT "CorrectionRun_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CorrectionRun" ADD CONSTRAINT "CorrectionRun_baseId_fkey" FOREIGN KEY ("baseId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "Correction" ADD CONSTRAINT "Correction_kind" CHECK ("kind" IN ('car', 'calibrations', 'model', 'loop', 'run'));
ALTER TABLE "Correction" ADD CONSTRAINT "Correction_world_key" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
-- What was decided says when; by whom, but for what touched no run.
ALTER TABLE "Correction" ADD CONSTRAINT "Correction_decided" CHECK (
  ("state" IN ('approved', 'rejected', 'withdrawn')) = ("decidedAt" IS NOT NULL));
-- Two changes of one thing are decided one after the other: the second is proposed on what the first left.
ALTER TABLE "Correction" ADD CONSTRAINT "Correction_one_open"
  EXCLUDE USING btree ("subjectId" WITH =) WHERE ("state" IN ('computing', 'waiting'));

ALTER TABLE "RevisionInputs" DROP CONSTRAINT "RevisionInputs_origin";
ALTER TABLE "RevisionInputs" ADD CONSTRAINT "RevisionInputs_origin" CHECK ("origin" IN ('submitted', 'corrected', 'reconstructed'));
