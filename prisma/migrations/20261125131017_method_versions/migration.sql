-- CreateTable
CREATE TABLE "MethodVersion" (
    "id" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "engine" TEXT NOT NULL,
    "isDemo" BOOLEAN NOT NULL,
    "ordinal" INTEGER NOT NULL,
    "isCurrent" BOOLEAN NOT NULL,
    "adoptedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "adoptedById" UUID NOT NULL,
    "summary" TEXT NOT NULL,

    CONSTRAINT "MethodVersion_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AdoptedRoadLoad" (
    "methodVersionId" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "learnedRoadLoadId" UUID NOT NULL,
    "runCount" INTEGER NOT NULL,
    "gainPerRun" DOUBLE PRECISION NOT NULL,
    "posterior" JSONB NOT NULL,
    "levels" JSONB NOT NULL,

    CONSTRAINT "AdoptedRoadLoad_pkey" PRIMARY KEY ("methodVersionId","modelId")
);

-- CreateIndex
CREATE UNIQUE INDEX "MethodVersion_label_key" ON "MethodVersion"("label");

-- CreateIndex
CREATE UNIQUE INDEX "MethodVersion_isDemo_ordinal_key" ON "MethodVersion"("isDemo", "ordinal");

-- CreateIndex
CREATE INDEX "AdoptedRoadLoad_modelId_idx" ON "AdoptedRoadLoad"("modelId");

-- CreateIndex
CREATE INDEX "AdoptedRoadLoad_learnedRoadLoadId_idx" ON "AdoptedRoadLoad"("learnedRoadLoadId");

-- AddForeignKey
ALTER TABLE "MethodVersion" ADD CONSTRAINT "MethodVersion_adoptedById_fkey" FOREIGN KEY ("adoptedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "AdoptedRoadLoad" ADD CONSTRAINT "AdoptedRoadLoad_methodVersionId_fkey" FOREIGN KEY ("methodVersionId") REFERENCES "MethodVersion"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "AdoptedRoadLoad" ADD CONSTRAINT "AdoptedRoadLoad_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "AdoptedRoadLoad" ADD CONSTRAINT "AdoptedRoadLoad_learnedRoadLoadId_fkey" FOREIGN KEY ("learnedRoadLoadId") REFERENCES "LearnedRoadLoad"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- One version is in effect in each world, the record and the demo world.
ALTER TABLE "MethodVersion" ADD CONSTRAINT "MethodVersion_one_current"
  EXCLUDE USING btree ("isDemo" WITH =) WHERE ("isCurrent");
ALTER TABLE "MethodVersion" ADD CONSTRAINT "MethodVersion_ordinal" CHECK ("ordinal" >= 1);
ALTER TABLE "MethodVersion" ADD CONSTRAINT "MethodVersion_has_summary" CHECK (btrim("summary") <> '');
ALTER TABLE "AdoptedRoadLoad" ADD CONSTRAINT "AdoptedRoadLoad_beats_priors"
  CHECK ("runCount" >= 1 AND "gainPerRun" > 0 AND "gainPerRun" < 'Infinity');

-- What was adopted is what results were made with: it stays. Of a version only which one is current may change.
CREATE FUNCTION refuse_method_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF to_jsonb(NEW) - 'isCurrent' IS DISTINCT FROM to_jsonb(OLD) - 'isCurrent' THEN
    RAISE EXCEPTION 'an adopted method version is not altered';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "MethodVersion_unaltered" BEFORE UPDATE ON "MethodVersion"
  FOR EACH ROW EXECUTE FUNCTION refuse_method_change();
CREATE TRIGGER "MethodVersion_kept" BEFORE DELETE ON "MethodVersion"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "MethodVersion_never_emptied" BEFORE TRUNCATE ON "MethodVersion"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "AdoptedRoadLoad_append_only" BEFORE UPDATE OR DELETE ON "AdoptedRoadLoad"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "AdoptedRoadLoad_never_emptied" BEFORE TRUNCATE ON "AdoptedRoadLoad"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What the demo world learned never adjusts the record, nor the other way round; and only a model's own road load is its.
CREATE FUNCTION refuse_foreign_road_load() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (
    SELECT 1 FROM "MethodVersion" version
    JOIN "VehicleModel" model ON model."isDemo" = version."isDemo"
    JOIN "LearnedRoadLoad" learned ON learned."modelId" = model."id"
    WHERE version."id" = NEW."methodVersionId" AND model."id" = NEW."modelId"
      AND learned."id" = NEW."learnedRoadLoadId" AND learned."beatsPriors"
  ) THEN
    RAISE EXCEPTION 'this road load is not one of this model and world that beats its priors';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER "AdoptedRoadLoad_of_its_world" BEFORE INSERT ON "AdoptedRoadLoad"
  FOR EACH ROW EXECUTE FUNCTION refuse_foreign_road_load();
