-- Sign-ins are kept, so that each can be listed and ended. Tokens from before name none and count as signed out.
CREATE TABLE "SignIn" (
    "key" TEXT NOT NULL,
    "accountId" UUID NOT NULL,
    "device" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "lastSeenAt" TIMESTAMPTZ(3) NOT NULL,
    "endedAt" TIMESTAMPTZ(3),

    CONSTRAINT "SignIn_pkey" PRIMARY KEY ("key")
);

CREATE INDEX "SignIn_accountId_lastSeenAt_idx" ON "SignIn"("accountId", "lastSeenAt");

ALTER TABLE "SignIn" ADD CONSTRAINT "SignIn_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
