-- AlterTable
ALTER TABLE "Run" ADD COLUMN     "sheetId" UUID;

-- CreateTable
CREATE TABLE "SessionSheet" (
    "id" UUID NOT NULL,
    "testerId" UUID NOT NULL,
    "creationKey" TEXT NOT NULL,
    "localDate" DATE NOT NULL,
    "shared" JSONB NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "savedAt" TIMESTAMPTZ(3) NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "SessionSheet_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "SessionSheet_testerId_localDate_id_idx" ON "SessionSheet"("testerId", "localDate", "id");

-- CreateIndex
CREATE UNIQUE INDEX "SessionSheet_testerId_creationKey_key" ON "SessionSheet"("testerId", "creationKey");

-- CreateIndex
CREATE INDEX "Run_sheetId_idx" ON "Run"("sheetId");

-- AddForeignKey
ALTER TABLE "SessionSheet" ADD CONSTRAINT "SessionSheet_testerId_fkey" FOREIGN KEY ("testerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_sheetId_fkey" FOREIGN KEY ("sheetId") REFERENCES "SessionSheet"("id") ON DELETE SET NULL ON UPDATE CASCADE;
