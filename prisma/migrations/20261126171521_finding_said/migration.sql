-- AlterTable
ALTER TABLE "Finding" ADD COLUMN     "said" JSONB;
