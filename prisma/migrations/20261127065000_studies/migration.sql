-- Studies: a question, the plan that was fixed before driving, those who drive, and the runs of it.
-- CreateEnum
CREATE TYPE "StudyState" AS ENUM ('draft', 'running', 'complete', 'abandoned');

-- CreateTable
CREATE TABLE "Study" (
    "id" UUID NOT NULL,
    "slug" TEXT NOT NULL,
    "world" TEXT NOT NULL,
    "question" TEXT NOT NULL,
    "state" "StudyState" NOT NULL DEFAULT 'draft',
    "ownerId" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "loopId" UUID NOT NULL,
    "cruiseClassKey" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "beganAt" TIMESTAMPTZ(3),
    "endedAt" TIMESTAMPTZ(3),
    "endReason" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "Study_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "StudyVersion" (
    "studyId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "plan" JSONB NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "madeById" UUID NOT NULL,
    "madeAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "StudyVersion_pkey" PRIMARY KEY ("studyId","number")
);

-- CreateTable
CREATE TABLE "StudyTester" (
    "studyId" UUID NOT NULL,
    "accountId" UUID NOT NULL,
    "joinedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "StudyTester_pkey" PRIMARY KEY ("studyId","accountId")
);

-- CreateTable
CREATE TABLE "StudyRun" (
    "runId" UUID NOT NULL,
    "studyId" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "wasChosen" BOOLEAN NOT NULL,
    "addedAt" TIMESTAMPTZ(3) NOT NULL,
    "addedById" UUID NOT NULL,

    CONSTRAINT "StudyRun_pkey" PRIMARY KEY ("runId")
);

-- CreateIndex
CREATE UNIQUE INDEX "Study_slug_key" ON "Study"("slug");

-- CreateIndex
CREATE INDEX "Study_state_id_idx" ON "Study"("state", "id");

-- CreateIndex
CREATE INDEX "Study_ownerId_id_idx" ON "Study"("ownerId", "id");

-- CreateIndex
CREATE INDEX "Study_modelId_idx" ON "Study"("modelId");

-- CreateIndex
CREATE INDEX "Study_loopId_idx" ON "Study"("loopId");

-- CreateIndex
CREATE INDEX "StudyVersion_madeById_idx" ON "StudyVersion"("madeById");

-- CreateIndex
CREATE INDEX "StudyTester_accountId_idx" ON "StudyTester"("accountId");

-- CreateIndex
CREATE INDEX "StudyRun_studyId_idx" ON "StudyRun"("studyId");

-- CreateIndex
CREATE INDEX "StudyRun_addedById_idx" ON "StudyRun"("addedById");

-- AddForeignKey
ALTER TABLE "Study" ADD CONSTRAINT "Study_ownerId_fkey" FOREIGN KEY ("ownerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Study" ADD CONSTRAINT "Study_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Study" ADD CONSTRAINT "Study_loopId_fkey" FOREIGN KEY ("loopId") REFERENCES "Loop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Study" ADD CONSTRAINT "Study_cruiseClassKey_fkey" FOREIGN KEY ("cruiseClassKey") REFERENCES "CruiseClass"("key") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyVersion" ADD CONSTRAINT "StudyVersion_studyId_fkey" FOREIGN KEY ("studyId") REFERENCES "Study"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyVersion" ADD CONSTRAINT "StudyVersion_madeById_fkey" FOREIGN KEY ("madeById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyTester" ADD CONSTRAINT "StudyTester_studyId_fkey" FOREIGN KEY ("studyId") REFERENCES "Study"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyTester" ADD CONSTRAINT "StudyTester_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyRun" ADD CONSTRAINT "StudyRun_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyRun" ADD CONSTRAINT "StudyRun_studyId_fkey" FOREIGN KEY ("studyId") REFERENCES "Study"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "StudyRun" ADD CONSTRAINT "StudyRun_addedById_fkey" FOREIGN KEY ("addedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "Study" ADD CONSTRAINT "Study_world_key" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
-- What runs began, what ended says when, and only what was given up says why.
ALTER TABLE "Study" ADD CONSTRAINT "Study_began" CHECK ("state" IN ('draft', 'abandoned') OR "beganAt" IS NOT NULL);
ALTER TABLE "Study" ADD CONSTRAINT "Study_ended" CHECK (("state" IN ('complete', 'abandoned')) = ("endedAt" IS NOT NULL));
ALTER TABLE "Study" ADD CONSTRAINT "Study_end_reason" CHECK (("state" = 'abandoned') = ("endReason" <> ''));
ALTER TABLE "StudyVersion" ADD CONSTRAINT "StudyVersion_reason" CHECK ("number" = 1 OR "reason" <> '');
