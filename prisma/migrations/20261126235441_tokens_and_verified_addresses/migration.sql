-- Single-use secrets by their hashes, and which addresses are proved.
-- CreateEnum
CREATE TYPE "TokenKind" AS ENUM ('api', 'email', 'reset', 'recovery');

-- AlterTable
ALTER TABLE "Account" ADD COLUMN "emailVerifiedAt" TIMESTAMPTZ(3);

-- AlterTable
ALTER TABLE "SignIn" ADD COLUMN "provedAt" TIMESTAMPTZ(3);

-- CreateTable
CREATE TABLE "Token" (
    "hash" TEXT NOT NULL,
    "accountId" UUID NOT NULL,
    "kind" "TokenKind" NOT NULL,
    "email" TEXT,
    "scopes" TEXT[] DEFAULT ARRAY[]::TEXT[],
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "expiresAt" TIMESTAMPTZ(3),
    "usedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Token_pkey" PRIMARY KEY ("hash")
);

-- CreateIndex
CREATE INDEX "Token_accountId_kind_idx" ON "Token"("accountId", "kind");

-- CreateIndex
CREATE INDEX "Token_expiresAt_idx" ON "Token"("expiresAt");

-- AddForeignKey
ALTER TABLE "Token" ADD CONSTRAINT "Token_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A provider vouched for these when their accounts were opened; those of invented people are nobody's to prove.
UPDATE "Account" SET "emailVerifiedAt" = "createdAt"
WHERE "email" IS NOT NULL AND ("world" <> 'record'
  OR EXISTS (SELECT 1 FROM "ExternalIdentity" identity WHERE identity."accountId" = "Account"."id"));

-- An e-mail token proves one address, the others none.
ALTER TABLE "Token" ADD CONSTRAINT "Token_email_has_an_address" CHECK (("kind" = 'email') = ("email" IS NOT NULL));
