-- DropIndex
DROP INDEX "AuditEntry_subjectKind_subjectId_idx";

-- DropIndex
DROP INDEX "CountedRun_testerId_methodVersion_day_number_idx";

-- DropIndex
DROP INDEX "Run_status_submittedAt_idx";

-- DropIndex
DROP INDEX "Run_testerId_status_idx";

-- AlterTable
ALTER TABLE "Run" ADD COLUMN     "localDate" DATE;

-- The day of the session, where there is one.
UPDATE "Run" SET "localDate" = session."localDate" FROM "Session" session WHERE session."id" = "Run"."sessionId";

-- CreateIndex
CREATE INDEX "Account_displayName_id_idx" ON "Account"("displayName", "id");

-- CreateIndex
CREATE INDEX "AuditEntry_subjectKind_subjectId_id_idx" ON "AuditEntry"("subjectKind", "subjectId", "id");

-- CreateIndex
CREATE INDEX "AuditEntry_action_id_idx" ON "AuditEntry"("action", "id");

-- CreateIndex
CREATE INDEX "CountedRun_testerId_day_number_idx" ON "CountedRun"("testerId", "day", "number");

-- CreateIndex
CREATE INDEX "Notification_accountId_createdAt_id_idx" ON "Notification"("accountId", "createdAt", "id");

-- CreateIndex
CREATE INDEX "Run_status_submittedAt_number_idx" ON "Run"("status", "submittedAt", "number");

-- CreateIndex
CREATE INDEX "Run_localDate_number_idx" ON "Run"("localDate", "number");

-- CreateIndex
CREATE INDEX "Run_testerId_status_draftSavedAt_number_idx" ON "Run"("testerId", "status", "draftSavedAt", "number");
