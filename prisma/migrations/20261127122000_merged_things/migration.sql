-- Two entries of one model, level or vehicle become one; the rows of what went stay and lead on.
ALTER TABLE "VehicleModel" ADD COLUMN     "mergedIntoId" UUID;
ALTER TABLE "FactorLevel" ADD COLUMN     "mergedIntoId" UUID;
ALTER TABLE "Setup" ADD COLUMN     "mergedIntoId" UUID;
ALTER TABLE "Car" ADD COLUMN     "mergedIntoId" UUID;
ALTER TABLE "Car" ADD COLUMN     "hiddenAt" TIMESTAMPTZ(3),
ADD COLUMN     "hiddenReason" TEXT;
ALTER TABLE "Car" ADD CONSTRAINT "Car_hidden_with_reason" CHECK (
  ("hiddenAt" IS NULL) = ("hiddenReason" IS NULL));
ALTER TABLE "VehicleModel" ADD CONSTRAINT "VehicleModel_not_into_itself" CHECK ("mergedIntoId" <> "id");
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_not_into_itself" CHECK ("mergedIntoId" <> "id");
ALTER TABLE "Setup" ADD CONSTRAINT "Setup_not_into_itself" CHECK ("mergedIntoId" <> "id");
ALTER TABLE "Car" ADD CONSTRAINT "Car_not_into_itself" CHECK ("mergedIntoId" <> "id");
ALTER TABLE "VehicleModel" ADD CONSTRAINT "VehicleModel_merged_is_hidden" CHECK ("mergedIntoId" IS NULL OR "hiddenAt" IS NOT NULL);
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_merged_is_hidden" CHECK ("mergedIntoId" IS NULL OR "hiddenAt" IS NOT NULL);
CREATE INDEX "VehicleModel_mergedIntoId_idx" ON "VehicleModel"("mergedIntoId");
CREATE INDEX "FactorLevel_mergedIntoId_idx" ON "FactorLevel"("mergedIntoId");
CREATE INDEX "Setup_mergedIntoId_idx" ON "Setup"("mergedIntoId");
CREATE INDEX "Car_mergedIntoId_idx" ON "Car"("mergedIntoId");
ALTER TABLE "VehicleModel" ADD CONSTRAINT "VehicleModel_mergedIntoId_fkey" FOREIGN KEY ("mergedIntoId") REFERENCES "VehicleModel"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_mergedIntoId_fkey" FOREIGN KEY ("mergedIntoId") REFERENCES "FactorLevel"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "Setup" ADD CONSTRAINT "Setup_mergedIntoId_fkey" FOREIGN KEY ("mergedIntoId") REFERENCES "Setup"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "Car" ADD CONSTRAINT "Car_mergedIntoId_fkey" FOREIGN KEY ("mergedIntoId") REFERENCES "Car"("id") ON DELETE SET NULL ON UPDATE CASCADE;
