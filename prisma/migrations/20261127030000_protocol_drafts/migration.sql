-- CreateTable
CREATE TABLE "ProtocolDraft" (
    "id" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "summary" TEXT NOT NULL,
    "parameters" JSONB NOT NULL,
    "revision" INTEGER NOT NULL DEFAULT 1,
    "basedOnId" UUID NOT NULL,
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "editedAt" TIMESTAMPTZ(3) NOT NULL,
    "activateAt" TIMESTAMPTZ(3),
    "announcedAt" TIMESTAMPTZ(3),
    "announcedById" UUID,
    "publishedAsId" UUID,

    CONSTRAINT "ProtocolDraft_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "DryRun" (
    "draftId" UUID NOT NULL,
    "revision" INTEGER NOT NULL,
    "againstId" UUID NOT NULL,
    "askedById" UUID NOT NULL,
    "askedAt" TIMESTAMPTZ(3) NOT NULL,
    "finishedAt" TIMESTAMPTZ(3),

    CONSTRAINT "DryRun_pkey" PRIMARY KEY ("draftId")
);

-- CreateTable
CREATE TABLE "DryRunResult" (
    "draftId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "runId" UUID NOT NULL,
    "world" TEXT NOT NULL,
    "cruiseClassKey" TEXT NOT NULL,
    "setupId" UUID,
    "before" "FindingOutcome",
    "after" "FindingOutcome",

    CONSTRAINT "DryRunResult_pkey" PRIMARY KEY ("draftId","number")
);

-- CreateTable
CREATE TABLE "DryRunChange" (
    "draftId" UUID NOT NULL,
    "ruleId" TEXT NOT NULL,
    "number" INTEGER NOT NULL,
    "before" "FindingOutcome",
    "after" "FindingOutcome",
    "sentence" TEXT NOT NULL,
    "said" JSONB,

    CONSTRAINT "DryRunChange_pkey" PRIMARY KEY ("draftId","number","ruleId")
);

-- CreateIndex
CREATE UNIQUE INDEX "ProtocolDraft_label_key" ON "ProtocolDraft"("label");

-- CreateIndex
CREATE UNIQUE INDEX "ProtocolDraft_publishedAsId_key" ON "ProtocolDraft"("publishedAsId");

-- CreateIndex
CREATE INDEX "ProtocolDraft_createdAt_idx" ON "ProtocolDraft"("createdAt");

-- CreateIndex
CREATE INDEX "DryRunChange_draftId_ruleId_idx" ON "DryRunChange"("draftId", "ruleId");

-- AddForeignKey
ALTER TABLE "ProtocolDraft" ADD CONSTRAINT "ProtocolDraft_basedOnId_fkey" FOREIGN KEY ("basedOnId") REFERENCES "ProtocolVersion"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ProtocolDraft" ADD CONSTRAINT "ProtocolDraft_publishedAsId_fkey" FOREIGN KEY ("publishedAsId") REFERENCES "ProtocolVersion"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ProtocolDraft" ADD CONSTRAINT "ProtocolDraft_createdById_fkey" FOREIGN KEY ("createdById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ProtocolDraft" ADD CONSTRAINT "ProtocolDraft_announcedById_fkey" FOREIGN KEY ("announcedById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DryRun" ADD CONSTRAINT "DryRun_draftId_fkey" FOREIGN KEY ("draftId") REFERENCES "ProtocolDraft"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DryRun" ADD CONSTRAINT "DryRun_againstId_fkey" FOREIGN KEY ("againstId") REFERENCES "ProtocolVersion"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DryRun" ADD CONSTRAINT "DryRun_askedById_fkey" FOREIGN KEY ("askedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DryRunResult" ADD CONSTRAINT "DryRunResult_draftId_fkey" FOREIGN KEY ("draftId") REFERENCES "DryRun"("draftId") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DryRunResult" ADD CONSTRAINT "DryRunResult_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DryRunResult" ADD CONSTRAINT "DryRunResult_setupId_fkey" FOREIGN KEY ("setupId") REFERENCES "Setup"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DryRunChange" ADD CONSTRAINT "DryRunChange_draftId_fkey" FOREIGN KEY ("draftId") REFERENCES "DryRun"("draftId") ON DELETE CASCADE ON UPDATE CASCADE;

-- At most one version is announced at a time, and only with who announced it.
ALTER TABLE "ProtocolDraft" ADD CONSTRAINT "ProtocolDraft_one_announced"
  EXCLUDE USING btree ((true) WITH =) WHERE ("activateAt" IS NOT NULL AND "publishedAsId" IS NULL);

ALTER TABLE "ProtocolDraft" ADD CONSTRAINT "ProtocolDraft_announcement" CHECK (
  ("activateAt" IS NULL) = ("announcedAt" IS NULL) AND ("activateAt" IS NULL) = ("announcedById" IS NULL));

ALTER TABLE "DryRunResult" ADD CONSTRAINT "DryRunResult_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
