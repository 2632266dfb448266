-- Rules of the record that Prisma's schema cannot say. Each has a name that an error message can be tied to.

-- E-mail addresses are kept in lower case, so that the unique key means one person.
ALTER TABLE "Account" ADD CONSTRAINT "Account_email_lower" CHECK ("email" = lower("email"));
-- An erased account keeps its place in the record but nothing personal.
ALTER TABLE "Account" ADD CONSTRAINT "Account_erased_is_empty"
  CHECK ("erasedAt" IS NULL OR ("email" IS NULL AND "passwordHash" IS NULL));

ALTER TABLE "VehicleModel" ADD CONSTRAINT "VehicleModel_ranges" CHECK (
  "modelYear" BETWEEN 1990 AND 2100
  AND "kerbMassKg" BETWEEN 200 AND 20000
  AND ("usableCapacityWh" IS NULL OR "usableCapacityWh" BETWEEN 1000 AND 1000000)
  AND ("dragAreaM2" IS NULL OR "dragAreaM2" BETWEEN 0.1 AND 10));
ALTER TABLE "VehicleModel" ADD CONSTRAINT "VehicleModel_drag_has_source"
  CHECK ("dragAreaM2" IS NULL OR "dragAreaSource" IS NOT NULL);

ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_factor" CHECK ("factor" IN (
  'driveMode', 'rideHeight', 'wheelTyre', 'tyrePressure', 'load', 'openingsCovers', 'roofHitch', 'cabinClimate'));
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_tyreKind"
  CHECK ("tyreKind" IS NULL OR ("factor" = 'wheelTyre' AND "tyreKind" IN ('road', 'allTerrain')));

ALTER TABLE "InstrumentCalibration" ADD CONSTRAINT "InstrumentCalibration_ranges" CHECK (
  "instrument" IN ('speedometer', 'odometer')
  AND "factor" BETWEEN 0.7 AND 1.3
  AND "standardUncertainty" > 0 AND "standardUncertainty" <= 0.1);

ALTER TABLE "Loop" ADD CONSTRAINT "Loop_ranges" CHECK (
  "lengthM" BETWEEN 2000 AND 1500000
  AND "lengthUncertaintyM" >= 0
  AND "altitudeM" BETWEEN -500 AND 6000
  AND "closureDistanceM" >= 0 AND "closureHeightM" >= 0
  AND "sharedRouteShare" BETWEEN 0 AND 1
  AND "offCruiseShare" BETWEEN 0 AND 1
  AND "postedLimitMps" BETWEEN 5 AND 60);
ALTER TABLE "LoopLeg" ADD CONSTRAINT "LoopLeg_direction" CHECK ("direction" IN ('outbound', 'return'));

-- Past the draft, a run knows its car, setup, loop, session and class.
ALTER TABLE "Run" ADD CONSTRAINT "Run_submitted_is_complete" CHECK (
  "status" = 'draft' OR (
    "carId" IS NOT NULL AND "setupId" IS NOT NULL AND "loopId" IS NOT NULL AND "sessionId" IS NOT NULL
    AND "cruiseClassKey" IS NOT NULL AND "submittedAt" IS NOT NULL));
ALTER TABLE "Run" ADD CONSTRAINT "Run_approved_has_revision"
  CHECK ("status" NOT IN ('approved', 'retracted', 'superseded') OR "approvedRevision" IS NOT NULL);
ALTER TABLE "Run" ADD CONSTRAINT "Run_supersedes_another" CHECK ("supersededById" IS NULL OR "supersededById" <> "id");

ALTER TABLE "RunRevision" ADD CONSTRAINT "RunRevision_number" CHECK ("number" >= 1);

-- NaN sorts above every number in PostgreSQL, so an upper bound refuses it as well as infinity.
ALTER TABLE "Reading" ADD CONSTRAINT "Reading_finite_interval" CHECK (
  "low" <= "value" AND "value" <= "high" AND "low" > '-Infinity' AND "high" < 'Infinity');

ALTER TABLE "Conditions" ADD CONSTRAINT "Conditions_ranges" CHECK (
  "airTemperatureC" BETWEEN -60 AND 60
  AND "airTemperatureUC" > 0
  AND ("pressurePa" IS NULL OR "pressurePa" BETWEEN 50000 AND 110000)
  AND ("relativeHumidity" IS NULL OR "relativeHumidity" BETWEEN 0 AND 1)
  AND ("windSpeedMps" IS NULL OR "windSpeedMps" BETWEEN 0 AND 60)
  AND ("windFromDeg" IS NULL OR "windFromDeg" BETWEEN 0 AND 360));

ALTER TABLE "EvidenceFile" ADD CONSTRAINT "EvidenceFile_hashes"
  CHECK ("sha256" ~ '^[0-9a-f]{64}$' AND "thumbSha256" ~ '^[0-9a-f]{64}$');

-- At most one version of the protocol is in force.
ALTER TABLE "ProtocolVersion" ADD CONSTRAINT "ProtocolVersion_one_active"
  EXCLUDE USING btree ("status" WITH =) WHERE ("status" = 'active');

-- At most one open claim a run: two reviewers cannot hold the same run.
ALTER TABLE "ReviewClaim" ADD CONSTRAINT "ReviewClaim_one_open"
  EXCLUDE USING btree ("runId" WITH =) WHERE ("releasedAt" IS NULL);

-- One fit of a comparison group is the published one.
ALTER TABLE "Fit" ADD CONSTRAINT "Fit_one_current"
  EXCLUDE USING btree ("groupId" WITH =) WHERE ("isCurrent");

ALTER TABLE "Normalisation" ADD CONSTRAINT "Normalisation_complete" CHECK (
  NOT "isNormalised" OR ("normalisedWhPerKm" IS NOT NULL AND "uWhPerKm" > 0 AND "uRunRelative" > 0));

ALTER TABLE "Contrast" ADD CONSTRAINT "Contrast_two_setups" CHECK ("setupAId" <> "setupBId");

-- Work of one kind on one thing waits once, however often it was asked for.
ALTER TABLE "Job" ADD CONSTRAINT "Job_one_queued"
  EXCLUDE USING btree ("kind" WITH =, "key" WITH =) WHERE ("state" = 'queued');

-- Raised without a code of their own: the client's adapter hides the message of integrity errors.
-- Nobody decides on a revision that they submitted, whatever the code above says.
CREATE FUNCTION refuse_own_decision() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (
    SELECT 1 FROM "RunRevision" revision JOIN "Run" run ON run."id" = revision."runId"
    WHERE revision."id" = NEW."revisionId" AND run."testerId" = NEW."reviewerId"
  ) THEN
    RAISE EXCEPTION 'nobody reviews their own run';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "Decision_not_own" BEFORE INSERT OR UPDATE ON "Decision"
  FOR EACH ROW EXECUTE FUNCTION refuse_own_decision();

-- The record is kept: what was submitted, found, decided and logged cannot be altered or removed.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is append-only', TG_TABLE_NAME;
END $$;
CREATE TRIGGER "AuditEntry_append_only" BEFORE UPDATE OR DELETE ON "AuditEntry"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "RunRevision_append_only" BEFORE UPDATE OR DELETE ON "RunRevision"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Reading_append_only" BEFORE UPDATE OR DELETE ON "Reading"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Conditions_append_only" BEFORE UPDATE OR DELETE ON "Conditions"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Decision_append_only" BEFORE UPDATE OR DELETE ON "Decision"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "DecisionReason_append_only" BEFORE UPDATE OR DELETE ON "DecisionReason"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Retraction_append_only" BEFORE UPDATE OR DELETE ON "Retraction"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
