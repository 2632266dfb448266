-- Tokens that a tester makes for programs, and the answers to what these sent under a key of their own.
-- AlterTable
ALTER TABLE "Token" ADD COLUMN     "name" TEXT;

-- CreateTable
CREATE TABLE "KeptAnswer" (
    "accountId" UUID NOT NULL,
    "route" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "id" UUID NOT NULL,
    "requestHash" TEXT NOT NULL,
    "askedAt" TIMESTAMPTZ(3) NOT NULL,
    "begunAt" TIMESTAMPTZ(3) NOT NULL,
    "status" INTEGER,
    "body" TEXT,
    "location" TEXT,
    "etag" TEXT,

    CONSTRAINT "KeptAnswer_pkey" PRIMARY KEY ("accountId","route","key")
);

-- CreateIndex
CREATE INDEX "KeptAnswer_accountId_askedAt_idx" ON "KeptAnswer"("accountId", "askedAt");

-- CreateIndex
CREATE INDEX "KeptAnswer_askedAt_idx" ON "KeptAnswer"("askedAt");

-- AddForeignKey
ALTER TABLE "KeptAnswer" ADD CONSTRAINT "KeptAnswer_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A token for programs has a name, an end and something that it may do. None was ever made before.
ALTER TABLE "Token" ADD CONSTRAINT "Token_api_is_whole"
  CHECK ("kind" <> 'api' OR ("name" IS NOT NULL AND "expiresAt" IS NOT NULL AND cardinality("scopes") > 0));

-- An answer is there whole or not at all.
ALTER TABLE "KeptAnswer" ADD CONSTRAINT "KeptAnswer_answer_is_whole"
  CHECK (("status" IS NULL) = ("body" IS NULL));
