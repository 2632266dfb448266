-- AlterTable
ALTER TABLE "Car" ADD COLUMN     "coastDownF0N" DOUBLE PRECISION,
ADD COLUMN     "coastDownF1NPerKmh" DOUBLE PRECISION,
ADD COLUMN     "coastDownF2NPerKmh2" DOUBLE PRECISION;

-- A coast-down is three coefficients of one fit at reference conditions: all or none, within what a road vehicle shows,
-- in place of a drag area and a rolling coefficient, and with its source. (NaN sorts above every number.)
ALTER TABLE "Car" ADD CONSTRAINT "Car_coast_down" CHECK (
  ("coastDownF0N" IS NULL AND "coastDownF1NPerKmh" IS NULL AND "coastDownF2NPerKmh2" IS NULL)
  OR (
    "coastDownF0N" IS NOT NULL AND "coastDownF1NPerKmh" IS NOT NULL AND "coastDownF2NPerKmh2" IS NOT NULL
    AND "coastDownF0N" BETWEEN 0 AND 5000
    AND "coastDownF1NPerKmh" BETWEEN -20 AND 20
    AND "coastDownF2NPerKmh2" BETWEEN 0.005 AND 0.5
    AND "dragAreaM2" IS NULL AND "rollingCoefficient" IS NULL
    AND "ownValuesSource" IS NOT NULL AND "ownValuesSource" <> ''));
