-- Tries in a row, with when the next is taken, in place of failed sign-ins by address: those closed an account to its
-- owner too, and were kept for a quarter of an hour.
DROP TABLE "SignInFailure";

CREATE TABLE "TryCount" (
    "key" TEXT NOT NULL,
    "tries" INTEGER NOT NULL,
    "lastAt" TIMESTAMPTZ(3) NOT NULL,
    "nextAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "TryCount_pkey" PRIMARY KEY ("key")
);

CREATE INDEX "TryCount_lastAt_idx" ON "TryCount"("lastAt");
