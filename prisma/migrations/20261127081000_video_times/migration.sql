-- AlterTable
ALTER TABLE "StudyRun" ADD COLUMN     "videoAtS" INTEGER;

-- Within a day, as lib/study/videoTimes.ts reads it.
ALTER TABLE "StudyRun" ADD CONSTRAINT "StudyRun_video_at" CHECK ("videoAtS" BETWEEN 0 AND 86399);
