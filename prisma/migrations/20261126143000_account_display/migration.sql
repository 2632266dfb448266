-- Units, decimal mark and appearance as chosen take the place of a system of units that nothing could choose.
-- AlterTable
ALTER TABLE "Account" DROP COLUMN "displaySystem",
ADD COLUMN     "display" JSONB;
