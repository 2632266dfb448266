-- DropIndex
DROP INDEX "Decision_revisionId_key";

-- AlterTable
ALTER TABLE "Decision" ADD COLUMN     "round" INTEGER NOT NULL DEFAULT 1,
ADD COLUMN     "secondFor" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- AlterTable
ALTER TABLE "Run" ADD COLUMN     "firstApprovalById" UUID,
ADD COLUMN     "round" INTEGER NOT NULL DEFAULT 1;

-- CreateTable
CREATE TABLE "Appeal" (
    "revisionId" UUID NOT NULL,
    "runId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "words" TEXT NOT NULL,
    "appealedAt" TIMESTAMPTZ(3) NOT NULL,
    "round" INTEGER NOT NULL,

    CONSTRAINT "Appeal_pkey" PRIMARY KEY ("revisionId")
);

-- CreateTable
CREATE TABLE "DeclaredInterest" (
    "id" UUID NOT NULL,
    "accountId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "declaredAt" TIMESTAMPTZ(3) NOT NULL,
    "endedAt" TIMESTAMPTZ(3),

    CONSTRAINT "DeclaredInterest_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "Appeal_runId_idx" ON "Appeal"("runId");

-- CreateIndex
CREATE INDEX "Appeal_byId_idx" ON "Appeal"("byId");

-- CreateIndex
CREATE INDEX "DeclaredInterest_accountId_endedAt_idx" ON "DeclaredInterest"("accountId", "endedAt");

-- CreateIndex
CREATE INDEX "Decision_reviewerId_decidedAt_idx" ON "Decision"("reviewerId", "decidedAt");

-- CreateIndex
CREATE UNIQUE INDEX "Decision_revisionId_reviewerId_round_key" ON "Decision"("revisionId", "reviewerId", "round");

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_firstApprovalById_fkey" FOREIGN KEY ("firstApprovalById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Appeal" ADD CONSTRAINT "Appeal_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Appeal" ADD CONSTRAINT "Appeal_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Appeal" ADD CONSTRAINT "Appeal_byId_fkey" FOREIGN KEY ("byId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DeclaredInterest" ADD CONSTRAINT "DeclaredInterest_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- By hand

-- A first approval is waited on by a run that waits, and by no other.
ALTER TABLE "Run" ADD CONSTRAINT "Run_firstApproval_waits"
  CHECK ("firstApprovalById" IS NULL OR "status" = 'submitted');
ALTER TABLE "Run" ADD CONSTRAINT "Run_round_counts" CHECK ("round" >= 1);
ALTER TABLE "DeclaredInterest" ADD CONSTRAINT "DeclaredInterest_kind_known" CHECK ("kind" IN ('account', 'maker', 'model'));
-- The same interest is open once.
CREATE UNIQUE INDEX "DeclaredInterest_open_key" ON "DeclaredInterest" ("accountId", "kind", "subjectId")
  WHERE "endedAt" IS NULL;
