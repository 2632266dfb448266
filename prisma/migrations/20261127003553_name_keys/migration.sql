-- What the names that stand in public look like; those that are there get theirs from a job.
-- CreateTable
CREATE TABLE "NameKey" (
    "kind" TEXT NOT NULL,
    "scope" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "thingId" UUID NOT NULL,
    "name" TEXT NOT NULL,

    CONSTRAINT "NameKey_pkey" PRIMARY KEY ("kind","scope","key","thingId")
);

-- CreateIndex
CREATE INDEX "NameKey_thingId_idx" ON "NameKey"("thingId");
