-- Notices by letter: what an account chose, which notices a letter has, and links that end letters.
-- CreateEnum
CREATE TYPE "NoticeMail" AS ENUM ('none', 'each', 'weekly');

-- AlterEnum
ALTER TYPE "TokenKind" ADD VALUE 'unsubscribe';

-- AlterTable
ALTER TABLE "Account" ADD COLUMN     "noticeMail" "NoticeMail" NOT NULL DEFAULT 'none',
ADD COLUMN     "noticeMailFrom" TIMESTAMPTZ(3);

-- AlterTable
ALTER TABLE "Notification" ADD COLUMN     "mailedAt" TIMESTAMPTZ(3);

-- CreateIndex
CREATE INDEX "Account_noticeMail_noticeMailFrom_idx" ON "Account"("noticeMail", "noticeMailFrom");

-- Whoever chose letters chose them from a time on; an erased account gets none.
ALTER TABLE "Account" ADD CONSTRAINT "Account_letters_begin" CHECK ("noticeMail" = 'none' OR "noticeMailFrom" IS NOT NULL);
ALTER TABLE "Account" ADD CONSTRAINT "Account_erased_gets_no_letters" CHECK ("erasedAt" IS NULL OR "noticeMail" = 'none');
