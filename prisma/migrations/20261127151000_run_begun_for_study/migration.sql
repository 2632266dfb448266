-- AlterTable
ALTER TABLE "Run" ADD COLUMN     "begunForStudyId" UUID;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_begunForStudyId_fkey" FOREIGN KEY ("begunForStudyId") REFERENCES "Study"("id") ON DELETE SET NULL ON UPDATE CASCADE;
