-- What people report about public pages, for reviewers and stewards.
CREATE TABLE "PublicReport" (
    "id" UUID NOT NULL,
    "world" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "subjectId" UUID NOT NULL,
    "ownerId" UUID,
    "byId" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "reportedAt" TIMESTAMPTZ(3) NOT NULL,
    "settledAt" TIMESTAMPTZ(3),
    "settledById" UUID,
    "decision" TEXT,
    "answer" TEXT,

    CONSTRAINT "PublicReport_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "PublicReport_reportedAt_id_idx" ON "PublicReport"("reportedAt", "id");
CREATE INDEX "PublicReport_byId_reportedAt_idx" ON "PublicReport"("byId", "reportedAt");
CREATE INDEX "PublicReport_subjectId_idx" ON "PublicReport"("subjectId");

ALTER TABLE "PublicReport" ADD CONSTRAINT "PublicReport_byId_fkey" FOREIGN KEY ("byId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "PublicReport" ADD CONSTRAINT "PublicReport_settledById_fkey" FOREIGN KEY ("settledById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- One at a time by one person about one thing.
CREATE UNIQUE INDEX "PublicReport_one_open" ON "PublicReport" ("byId", "kind", "subjectId") WHERE "settledAt" IS NULL;
ALTER TABLE "PublicReport" ADD CONSTRAINT "PublicReport_kind" CHECK ("kind" IN ('run', 'setup', 'loop', 'model', 'tester'));
ALTER TABLE "PublicReport" ADD CONSTRAINT "PublicReport_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "PublicReport" ADD CONSTRAINT "PublicReport_settled_with_answer" CHECK (
  ("settledAt" IS NULL) = ("decision" IS NULL) AND ("settledAt" IS NULL) = ("answer" IS NULL));
