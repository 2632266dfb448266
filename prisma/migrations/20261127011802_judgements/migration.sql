-- CreateTable
CREATE TABLE "Judgement" (
    "revisionId" UUID NOT NULL,
    "protocolVersionId" UUID NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "judgedAt" TIMESTAMPTZ(3) NOT NULL,
    "fails" INTEGER NOT NULL,
    "cautions" INTEGER NOT NULL,
    "failed" JSONB NOT NULL,

    CONSTRAINT "Judgement_pkey" PRIMARY KEY ("revisionId")
);

-- CreateIndex
CREATE INDEX "Judgement_protocolVersionId_fails_idx" ON "Judgement"("protocolVersionId", "fails");

-- AddForeignKey
ALTER TABLE "Judgement" ADD CONSTRAINT "Judgement_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Judgement" ADD CONSTRAINT "Judgement_protocolVersionId_fkey" FOREIGN KEY ("protocolVersionId") REFERENCES "ProtocolVersion"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
