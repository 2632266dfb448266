-- AlterTable
ALTER TABLE "FactorLevel" ADD COLUMN     "isBaseline" BOOLEAN NOT NULL DEFAULT false;

-- A factor has one level that the car was delivered with.
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_one_baseline"
  EXCLUDE USING btree ("modelId" WITH =, "factor" WITH =) WHERE ("isBaseline");
