-- CreateTable
CREATE TABLE "RetypedReading" (
    "revisionId" UUID NOT NULL,
    "reviewerId" UUID NOT NULL,
    "quantity" TEXT NOT NULL,
    "text" TEXT,
    "agrees" BOOLEAN,
    "typedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "RetypedReading_pkey" PRIMARY KEY ("revisionId","reviewerId","quantity")
);

-- CreateIndex
CREATE INDEX "RetypedReading_reviewerId_idx" ON "RetypedReading"("reviewerId");

-- AddForeignKey
ALTER TABLE "RetypedReading" ADD CONSTRAINT "RetypedReading_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RetypedReading" ADD CONSTRAINT "RetypedReading_reviewerId_fkey" FOREIGN KEY ("reviewerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
