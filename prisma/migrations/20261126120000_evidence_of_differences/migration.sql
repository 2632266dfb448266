-- A difference keeps three intervals (the pair alone, its model's family, the class's) and one word for the strength of
-- its evidence. Fits made before have neither: they keep their numbers, not their differences, and are made anew.
DELETE FROM "Contrast";
ALTER TABLE "Contrast" DROP COLUMN "isSeparable",
DROP COLUMN "pHolm",
ADD COLUMN     "modelHighLog" DOUBLE PRECISION,
ADD COLUMN     "modelLowLog" DOUBLE PRECISION,
ADD COLUMN     "word" TEXT;
ALTER TABLE "Contrast" ADD CONSTRAINT "Contrast_word"
  CHECK ("word" IN ('settled', 'probable', 'leaning', 'undecided'));

ALTER TABLE "Estimate" DROP COLUMN "groupLetters";

INSERT INTO "Job" ("id", "kind", "key", "runAfter", "queuedAt")
SELECT gen_random_uuid(), 'refit', "ComparisonGroup"."world" || '/' || "ComparisonGroup"."cruiseClassKey", now(), now()
FROM "Fit" JOIN "ComparisonGroup" ON "ComparisonGroup"."id" = "Fit"."groupId"
WHERE "Fit"."isCurrent"
ON CONFLICT ON CONSTRAINT "Job_one_queued" DO NOTHING;
