-- How models charge, as people state it with a source: each statement stays, the newest counts.
CREATE TABLE "ChargingSheet" (
    "id" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "statedById" UUID NOT NULL,
    "statedAt" TIMESTAMPTZ(3) NOT NULL,
    "points" JSONB NOT NULL,
    "peakPowerW" DOUBLE PRECISION,
    "usableCapacityWh" DOUBLE PRECISION,
    "source" TEXT NOT NULL,

    CONSTRAINT "ChargingSheet_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "ChargingSheet_modelId_statedAt_id_idx" ON "ChargingSheet"("modelId", "statedAt", "id");

CREATE INDEX "ChargingSheet_statedById_idx" ON "ChargingSheet"("statedById");

ALTER TABLE "ChargingSheet" ADD CONSTRAINT "ChargingSheet_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "ChargingSheet" ADD CONSTRAINT "ChargingSheet_statedById_fkey" FOREIGN KEY ("statedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- A curve or a peak, in powers and energies that a road car can have, and never without a source.
ALTER TABLE "ChargingSheet" ADD CONSTRAINT "ChargingSheet_states_something" CHECK (
  jsonb_typeof("points") = 'array' AND (jsonb_array_length("points") > 0 OR "peakPowerW" IS NOT NULL));
ALTER TABLE "ChargingSheet" ADD CONSTRAINT "ChargingSheet_values" CHECK (
  ("peakPowerW" IS NULL OR "peakPowerW" BETWEEN 100 AND 2000000)
  AND ("usableCapacityWh" IS NULL OR "usableCapacityWh" BETWEEN 1000 AND 1000000));
ALTER TABLE "ChargingSheet" ADD CONSTRAINT "ChargingSheet_source" CHECK (btrim("source") <> '');

CREATE TRIGGER "ChargingSheet_append_only" BEFORE UPDATE OR DELETE ON "ChargingSheet"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
