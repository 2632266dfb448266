-- What readers ask for, their voices for it, and what they expect of running studies.
-- CreateEnum
CREATE TYPE "RequestState" AS ENUM ('open', 'taken', 'answered', 'closed');

-- AlterTable
ALTER TABLE "Study" ADD COLUMN     "requestId" UUID;

-- CreateTable
CREATE TABLE "TestRequest" (
    "id" UUID NOT NULL,
    "world" TEXT NOT NULL,
    "question" TEXT NOT NULL,
    "modelId" UUID NOT NULL,
    "cruiseClassKey" TEXT NOT NULL,
    "factor" TEXT NOT NULL,
    "fromKey" TEXT NOT NULL,
    "toKey" TEXT NOT NULL,
    "baselineId" UUID,
    "setupId" UUID,
    "state" "RequestState" NOT NULL DEFAULT 'open',
    "askedById" UUID NOT NULL,
    "askedAt" TIMESTAMPTZ(3) NOT NULL,
    "movedAt" TIMESTAMPTZ(3) NOT NULL,
    "hiddenAt" TIMESTAMPTZ(3),
    "hiddenReason" TEXT,
    "hiddenById" UUID,

    CONSTRAINT "TestRequest_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RequestBacking" (
    "requestId" UUID NOT NULL,
    "accountId" UUID NOT NULL,
    "backedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "RequestBacking_pkey" PRIMARY KEY ("requestId","accountId")
);

-- CreateTable
CREATE TABLE "StudyGuess" (
    "studyId" UUID NOT NULL,
    "accountId" UUID NOT NULL,
    "percent" DOUBLE PRECISION NOT NULL,
    "guessedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "StudyGuess_pkey" PRIMARY KEY ("studyId","accountId")
);

-- CreateIndex
CREATE INDEX "TestRequest_world_cruiseClassKey_state_id_idx" ON "TestRequest"("world", "cruiseClassKey", "state", "id");

-- CreateIndex
CREATE INDEX "TestRequest_modelId_state_idx" ON "TestRequest"("modelId", "state");

-- CreateIndex
CREATE INDEX "TestRequest_askedById_askedAt_idx" ON "TestRequest"("askedById", "askedAt");

-- CreateIndex
CREATE INDEX "TestRequest_baselineId_idx" ON "TestRequest"("baselineId");

-- CreateIndex
CREATE INDEX "TestRequest_setupId_idx" ON "TestRequest"("setupId");

-- CreateIndex
CREATE INDEX "TestRequest_hiddenById_idx" ON "TestRequest"("hiddenById");

-- CreateIndex
CREATE INDEX "RequestBacking_accountId_backedAt_idx" ON "RequestBacking"("accountId", "backedAt");

-- CreateIndex
CREATE INDEX "StudyGuess_accountId_idx" ON "StudyGuess"("accountId");

-- CreateIndex
CREATE INDEX "Study_requestId_idx" ON "Study"("requestId");

-- AddForeignKey
ALTER TABLE "Study" ADD CONSTRAINT "Study_requestId_fkey" FOREIGN KEY ("requestId") REFERENCES "TestRequest"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_cruiseClassKey_fkey" FOREIGN KEY ("cruiseClassKey") REFERENCES "CruiseClass"("key") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_baselineId_fkey" FOREIGN KEY ("baselineId") REFERENCES "Setup"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_setupId_fkey" FOREIGN KEY ("setupId") REFERENCES "Setup"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_askedById_fkey" FOREIGN KEY ("askedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_hiddenById_fkey" FOREIGN KEY ("hiddenById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RequestBacking" ADD CONSTRAINT "RequestBacking_requestId_fkey" FOREIGN KEY ("requestId") REFERENCES "TestRequest"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RequestBacking" ADD CONSTRAINT "RequestBacking_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyGuess" ADD CONSTRAINT "StudyGuess_studyId_fkey" FOREIGN KEY ("studyId") REFERENCES "Study"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyGuess" ADD CONSTRAINT "StudyGuess_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_world_key" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_levels" CHECK ("fromKey" <> "toKey");
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_setups" CHECK (("baselineId" IS NULL) = ("setupId" IS NULL));
ALTER TABLE "TestRequest" ADD CONSTRAINT "TestRequest_hidden" CHECK (
  ("hiddenAt" IS NULL) = ("hiddenReason" IS NULL) AND ("hiddenAt" IS NULL) = ("hiddenById" IS NULL));
ALTER TABLE "StudyGuess" ADD CONSTRAINT "StudyGuess_percent" CHECK ("percent" BETWEEN -50 AND 50);

-- The same is asked for once: whichever of the two levels was named first, and whichever of two setups.
CREATE UNIQUE INDEX "TestRequest_one_of_a_kind" ON "TestRequest" (
  "world", "cruiseClassKey", "modelId", "factor", least("fromKey", "toKey"), greatest("fromKey", "toKey"),
  coalesce(least("baselineId"::text, "setupId"::text), ''), coalesce(greatest("baselineId"::text, "setupId"::text), '')
) WHERE "state" IN ('open', 'taken') AND "hiddenAt" IS NULL;
