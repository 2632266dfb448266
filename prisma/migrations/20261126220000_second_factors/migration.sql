-- A second factor by time-based codes, where its owner wants one, and recovery codes for when the device is lost.
CREATE TABLE "SecondFactor" (
    "accountId" UUID NOT NULL,
    "secret" TEXT NOT NULL,
    "lastStep" INTEGER NOT NULL DEFAULT 0,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "confirmedAt" TIMESTAMPTZ(3),

    CONSTRAINT "SecondFactor_pkey" PRIMARY KEY ("accountId")
);

CREATE TABLE "RecoveryCode" (
    "hash" TEXT NOT NULL,
    "accountId" UUID NOT NULL,
    "usedAt" TIMESTAMPTZ(3),

    CONSTRAINT "RecoveryCode_pkey" PRIMARY KEY ("hash")
);

CREATE INDEX "RecoveryCode_accountId_idx" ON "RecoveryCode"("accountId");

ALTER TABLE "SecondFactor" ADD CONSTRAINT "SecondFactor_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "RecoveryCode" ADD CONSTRAINT "RecoveryCode_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "SecondFactor"("accountId") ON DELETE CASCADE ON UPDATE CASCADE;
