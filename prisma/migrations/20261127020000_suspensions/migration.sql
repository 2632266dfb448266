-- A steward keeps an account from recording and reviewing until it is lifted.
CREATE TABLE "Suspension" (
    "id" UUID NOT NULL,
    "accountId" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "placedAt" TIMESTAMPTZ(3) NOT NULL,
    "placedById" UUID NOT NULL,
    "appeal" TEXT,
    "appealedAt" TIMESTAMPTZ(3),
    "liftedAt" TIMESTAMPTZ(3),
    "liftedById" UUID,
    "liftReason" TEXT,

    CONSTRAINT "Suspension_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "Suspension_accountId_placedAt_idx" ON "Suspension"("accountId", "placedAt");

ALTER TABLE "Suspension" ADD CONSTRAINT "Suspension_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "Suspension" ADD CONSTRAINT "Suspension_placedById_fkey" FOREIGN KEY ("placedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "Suspension" ADD CONSTRAINT "Suspension_liftedById_fkey" FOREIGN KEY ("liftedById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- What each request of an account asks for, and what holds that at most one is open.
CREATE UNIQUE INDEX "Suspension_one_open" ON "Suspension" ("accountId") WHERE "liftedAt" IS NULL;
ALTER TABLE "Suspension" ADD CONSTRAINT "Suspension_lifted_with_reason" CHECK (
  ("liftedAt" IS NULL) = ("liftReason" IS NULL) AND ("liftedById" IS NULL OR "liftedAt" IS NOT NULL));
ALTER TABLE "Suspension" ADD CONSTRAINT "Suspension_appealed_with_words" CHECK (
  ("appealedAt" IS NULL) = ("appeal" IS NULL));
ALTER TABLE "Suspension" ADD CONSTRAINT "Suspension_not_by_oneself" CHECK ("placedById" <> "accountId");
