-- CreateEnum
CREATE TYPE "PublishedDays" AS ENUM ('day', 'month');

-- AlterTable
ALTER TABLE "Account" ADD COLUMN     "publishedDays" "PublishedDays" NOT NULL DEFAULT 'day';

-- AlterTable
ALTER TABLE "Run" ADD COLUMN     "monthOnly" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "publishedDay" DATE;

-- AlterTable
ALTER TABLE "CountedRun" ADD COLUMN     "monthOnly" BOOLEAN NOT NULL DEFAULT false;

-- Nobody has chosen months yet: what is published is the day.
UPDATE "Run" SET "publishedDay" = "localDate" WHERE "localDate" IS NOT NULL;

-- CreateIndex
CREATE INDEX "Run_publishedDay_number_idx" ON "Run"("publishedDay", "number");
