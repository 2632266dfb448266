-- How well a car's own usable capacity is known, where its owner measured it.
ALTER TABLE "Car" ADD COLUMN     "usableCapacityUWh" DOUBLE PRECISION;

ALTER TABLE "Car" ADD CONSTRAINT "Car_measured_capacity" CHECK (
  "usableCapacityUWh" IS NULL
  OR ("usableCapacityUWh" BETWEEN 10 AND 50000 AND "usableCapacityWh" IS NOT NULL
    AND "ownValuesSource" IS NOT NULL AND "ownValuesSource" <> ''));
