-- CreateTable
CREATE TABLE "CountedRun" (
    "runId" UUID NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "world" TEXT NOT NULL,
    "cruiseClassKey" TEXT NOT NULL,
    "setupId" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "carId" UUID NOT NULL,
    "sessionId" UUID NOT NULL,
    "loopId" UUID NOT NULL,
    "testerId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "day" DATE NOT NULL,
    "measuredWhPerKm" DOUBLE PRECISION,
    "z" DOUBLE PRECISION,
    "u" DOUBLE PRECISION,
    "uWhPerKm" DOUBLE PRECISION,
    "effectiveDof" DOUBLE PRECISION,
    "parts" JSONB NOT NULL DEFAULT '[]',
    "countedAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "CountedRun_pkey" PRIMARY KEY ("runId","methodVersion")
);

-- CreateTable
CREATE TABLE "CountedLabel" (
    "world" TEXT NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "since" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "CountedLabel_pkey" PRIMARY KEY ("world")
);

-- CreateIndex
CREATE INDEX "CountedRun_world_methodVersion_cruiseClassKey_number_idx" ON "CountedRun"("world", "methodVersion", "cruiseClassKey", "number");

-- CreateIndex
CREATE INDEX "CountedRun_world_methodVersion_day_number_idx" ON "CountedRun"("world", "methodVersion", "day", "number");

-- CreateIndex
CREATE INDEX "CountedRun_world_countedAt_idx" ON "CountedRun"("world", "countedAt");

-- CreateIndex
CREATE INDEX "CountedRun_setupId_methodVersion_day_number_idx" ON "CountedRun"("setupId", "methodVersion", "day", "number");

-- CreateIndex
CREATE INDEX "CountedRun_modelId_methodVersion_cruiseClassKey_number_idx" ON "CountedRun"("modelId", "methodVersion", "cruiseClassKey", "number");

-- CreateIndex
CREATE INDEX "CountedRun_loopId_methodVersion_day_number_idx" ON "CountedRun"("loopId", "methodVersion", "day", "number");

-- CreateIndex
CREATE INDEX "CountedRun_testerId_methodVersion_day_number_idx" ON "CountedRun"("testerId", "methodVersion", "day", "number");

-- CreateIndex
CREATE INDEX "CountedRun_carId_methodVersion_idx" ON "CountedRun"("carId", "methodVersion");

-- AddForeignKey
ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_cruiseClassKey_fkey" FOREIGN KEY ("cruiseClassKey") REFERENCES "CruiseClass"("key") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_setupId_fkey" FOREIGN KEY ("setupId") REFERENCES "Setup"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_carId_fkey" FOREIGN KEY ("carId") REFERENCES "Car"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_loopId_fkey" FOREIGN KEY ("loopId") REFERENCES "Loop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_testerId_fkey" FOREIGN KEY ("testerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
ALTER TABLE "CountedLabel" ADD CONSTRAINT "CountedLabel_world" CHECK ("world" ~ '^(record|demo|import:[a-z0-9]+(-[a-z0-9]+)*)$');
-- A number comes with its uncertainty and with what was measured, or not at all. NaN sorts above every number.
ALTER TABLE "CountedRun" ADD CONSTRAINT "CountedRun_complete" CHECK (
  ("z" IS NULL AND "u" IS NULL AND "uWhPerKm" IS NULL)
  OR ("z" > '-Infinity' AND "z" < 'Infinity' AND "u" > 0 AND "u" < 'Infinity' AND "uWhPerKm" > 0 AND "measuredWhPerKm" > 0));
