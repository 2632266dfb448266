-- Which factors there are is said in one table of the code and checked where a level is added. The database only keeps
-- out what no key looks like.
ALTER TABLE "FactorLevel" DROP CONSTRAINT "FactorLevel_factor";
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_factor" CHECK ("factor" ~ '^[a-z][A-Za-z0-9]{0,39}$');
ALTER TABLE "FactorLevel" DROP CONSTRAINT "FactorLevel_tyreKind";
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_tyreKind"
  CHECK ("tyreKind" IS NULL OR "tyreKind" IN ('road', 'allTerrain'));
