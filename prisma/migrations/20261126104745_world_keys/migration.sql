-- A world is a key: 'record', 'demo' or 'import:<registry>'. What was a demo flag becomes 'demo', all else 'record'.
-- The columns are retyped in place: rows keep everything else, and triggers that refuse changes are not asked.

ALTER TABLE "MethodVersion" DROP CONSTRAINT "MethodVersion_one_current";

ALTER TABLE "Account" ALTER COLUMN "isDemo" DROP DEFAULT;
ALTER TABLE "Account" ALTER COLUMN "isDemo" TYPE TEXT USING CASE WHEN "isDemo" THEN 'demo' ELSE 'record' END;
ALTER TABLE "Account" RENAME COLUMN "isDemo" TO "world";
ALTER TABLE "Account" ALTER COLUMN "world" SET DEFAULT 'record';

ALTER TABLE "VehicleModel" ALTER COLUMN "isDemo" DROP DEFAULT;
ALTER TABLE "VehicleModel" ALTER COLUMN "isDemo" TYPE TEXT USING CASE WHEN "isDemo" THEN 'demo' ELSE 'record' END;
ALTER TABLE "VehicleModel" RENAME COLUMN "isDemo" TO "world";
ALTER TABLE "VehicleModel" ALTER COLUMN "world" SET DEFAULT 'record';

ALTER TABLE "Setup" ALTER COLUMN "isDemo" DROP DEFAULT;
ALTER TABLE "Setup" ALTER COLUMN "isDemo" TYPE TEXT USING CASE WHEN "isDemo" THEN 'demo' ELSE 'record' END;
ALTER TABLE "Setup" RENAME COLUMN "isDemo" TO "world";
ALTER TABLE "Setup" ALTER COLUMN "world" SET DEFAULT 'record';

ALTER TABLE "Car" ALTER COLUMN "isDemo" DROP DEFAULT;
ALTER TABLE "Car" ALTER COLUMN "isDemo" TYPE TEXT USING CASE WHEN "isDemo" THEN 'demo' ELSE 'record' END;
ALTER TABLE "Car" RENAME COLUMN "isDemo" TO "world";
ALTER TABLE "Car" ALTER COLUMN "world" SET DEFAULT 'record';

ALTER TABLE "Loop" ALTER COLUMN "isDemo" DROP DEFAULT;
ALTER TABLE "Loop" ALTER COLUMN "isDemo" TYPE TEXT USING CASE WHEN "isDemo" THEN 'demo' ELSE 'record' END;
ALTER TABLE "Loop" RENAME COLUMN "isDemo" TO "world";
ALTER TABLE "Loop" ALTER COLUMN "world" SET DEFAULT 'record';

ALTER TABLE "Run" ALTER COLUMN "isDemo" DROP DEFAULT;
ALTER TABLE "Run" ALTER COLUMN "isDemo" TYPE TEXT USING CASE WHEN "isDemo" THEN 'demo' ELSE 'record' END;
ALTER TABLE "Run" RENAME COLUMN "isDemo" TO "world";
ALTER TABLE "Run" ALTER COLUMN "world" SET DEFAULT 'record';

ALTER TABLE "ComparisonGroup" ALTER COLUMN "isDemo" TYPE TEXT USING CASE WHEN "isDemo" THEN 'demo' ELSE 'record' END;
ALTER TABLE "ComparisonGroup" RENAME COLUMN "isDemo" TO "world";

ALTER TABLE "MethodVersion" ALTER COLUMN "isDemo" TYPE TEXT USING CASE WHEN "isDemo" THEN 'demo' ELSE 'record' END;
ALTER TABLE "MethodVersion" RENAME COLUMN "isDemo" TO "world";

ALTER TABLE "Account" ADD CONSTRAINT "Account_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "VehicleModel" ADD CONSTRAINT "VehicleModel_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "Setup" ADD CONSTRAINT "Setup_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "Car" ADD CONSTRAINT "Car_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "Loop" ADD CONSTRAINT "Loop_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "Run" ADD CONSTRAINT "Run_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "ComparisonGroup" ADD CONSTRAINT "ComparisonGroup_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "MethodVersion" ADD CONSTRAINT "MethodVersion_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');

ALTER INDEX "ComparisonGroup_cruiseClassKey_isDemo_key" RENAME TO "ComparisonGroup_cruiseClassKey_world_key";
ALTER INDEX "MethodVersion_isDemo_ordinal_key" RENAME TO "MethodVersion_world_ordinal_key";

-- Two worlds may each know a model of the same maker, name, year and variant.
DROP INDEX "VehicleModel_makerId_name_modelYear_variant_key";
CREATE UNIQUE INDEX "VehicleModel_makerId_name_modelYear_variant_world_key" ON "VehicleModel"("makerId", "name", "modelYear", "variant", "world");

-- One version is in effect in each world.
ALTER TABLE "MethodVersion" ADD CONSTRAINT "MethodVersion_one_current"
  EXCLUDE USING btree ("world" WITH =) WHERE ("isCurrent");

-- As before, by the key: what one world learned never adjusts another, and only a model's own road load is its.
CREATE OR REPLACE FUNCTION refuse_foreign_road_load() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (
    SELECT 1 FROM "MethodVersion" version
    JOIN "VehicleModel" model ON model."world" = version."world"
    JOIN "LearnedRoadLoad" learned ON learned."modelId" = model."id"
    WHERE version."id" = NEW."methodVersionId" AND model."id" = NEW."modelId"
      AND learned."id" = NEW."learnedRoadLoadId" AND learned."beatsPriors"
  ) THEN
    RAISE EXCEPTION 'this road load is not one of this model and world that beats its priors';
  END IF;
  RETURN NEW;
END $$;
