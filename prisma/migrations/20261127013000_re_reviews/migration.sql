-- CreateTable
CREATE TABLE "ReReview" (
    "decisionId" UUID NOT NULL,
    "drawnAt" TIMESTAMPTZ(3) NOT NULL,
    "reviewerId" UUID,
    "kind" "DecisionKind",
    "note" TEXT NOT NULL DEFAULT '',
    "decidedAt" TIMESTAMPTZ(3),

    CONSTRAINT "ReReview_pkey" PRIMARY KEY ("decisionId")
);

-- CreateIndex
CREATE INDEX "ReReview_decidedAt_drawnAt_idx" ON "ReReview"("decidedAt", "drawnAt");

-- CreateIndex
CREATE INDEX "ReReview_reviewerId_idx" ON "ReReview"("reviewerId");

-- AddForeignKey
ALTER TABLE "ReReview" ADD CONSTRAINT "ReReview_decisionId_fkey" FOREIGN KEY ("decisionId") REFERENCES "Decision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReReview" ADD CONSTRAINT "ReReview_reviewerId_fkey" FOREIGN KEY ("reviewerId") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;
