-- Stewards rename, hide and merge: what was an address goes on leading to the thing.
CREATE TABLE "PastAddress" (
    "kind" TEXT NOT NULL,
    "slug" TEXT NOT NULL,
    "thingId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "until" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "PastAddress_pkey" PRIMARY KEY ("kind", "slug")
);

CREATE INDEX "PastAddress_thingId_idx" ON "PastAddress"("thingId");

ALTER TABLE "PastAddress" ADD CONSTRAINT "PastAddress_kind" CHECK ("kind" IN ('model', 'loop'));

ALTER TABLE "VehicleModel" ADD COLUMN     "hiddenAt" TIMESTAMPTZ(3),
ADD COLUMN     "hiddenReason" TEXT;
ALTER TABLE "VehicleModel" ADD CONSTRAINT "VehicleModel_hidden_with_reason" CHECK (
  ("hiddenAt" IS NULL) = ("hiddenReason" IS NULL));

ALTER TABLE "FactorLevel" ADD COLUMN     "hiddenAt" TIMESTAMPTZ(3),
ADD COLUMN     "hiddenReason" TEXT;
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_hidden_with_reason" CHECK (
  ("hiddenAt" IS NULL) = ("hiddenReason" IS NULL));

ALTER TABLE "Loop" ADD COLUMN     "hiddenAt" TIMESTAMPTZ(3),
ADD COLUMN     "hiddenReason" TEXT,
ADD COLUMN     "mergedIntoId" UUID;
ALTER TABLE "Loop" ADD CONSTRAINT "Loop_hidden_with_reason" CHECK (
  ("hiddenAt" IS NULL) = ("hiddenReason" IS NULL));
ALTER TABLE "Loop" ADD CONSTRAINT "Loop_not_into_itself" CHECK ("mergedIntoId" <> "id");

CREATE INDEX "Loop_mergedIntoId_idx" ON "Loop"("mergedIntoId");

ALTER TABLE "Loop" ADD CONSTRAINT "Loop_mergedIntoId_fkey" FOREIGN KEY ("mergedIntoId") REFERENCES "Loop"("id") ON DELETE SET NULL ON UPDATE CASCADE;
