-- DropIndex
DROP INDEX "CountedRun_carId_methodVersion_idx";

-- CreateTable
CREATE TABLE "FitRun" (
    "fitId" UUID NOT NULL,
    "runId" UUID NOT NULL,
    "setupId" UUID NOT NULL,
    "leaveOneOut" DOUBLE PRECISION,
    "sd" DOUBLE PRECISION,
    "studentised" DOUBLE PRECISION,
    "p" DOUBLE PRECISION,
    "pHolm" DOUBLE PRECISION,
    "knowsCar" BOOLEAN NOT NULL,
    "knowsSession" BOOLEAN NOT NULL,
    "isOnlyOfCar" BOOLEAN NOT NULL,
    "isOnlyOfSession" BOOLEAN NOT NULL,

    CONSTRAINT "FitRun_pkey" PRIMARY KEY ("fitId","runId")
);

-- CreateTable
CREATE TABLE "FitSetup" (
    "fitId" UUID NOT NULL,
    "setupId" UUID NOT NULL,
    "standing" JSONB NOT NULL,
    "spread" JSONB NOT NULL,

    CONSTRAINT "FitSetup_pkey" PRIMARY KEY ("fitId","setupId")
);

-- CreateTable
CREATE TABLE "FitModel" (
    "fitId" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "effects" JSONB NOT NULL,
    "standing" JSONB NOT NULL,

    CONSTRAINT "FitModel_pkey" PRIMARY KEY ("fitId","modelId")
);

-- CreateIndex
CREATE INDEX "FitRun_fitId_setupId_p_idx" ON "FitRun"("fitId", "setupId", "p");

-- CreateIndex
CREATE INDEX "FitSetup_setupId_idx" ON "FitSetup"("setupId");

-- CreateIndex
CREATE INDEX "FitModel_modelId_idx" ON "FitModel"("modelId");

-- CreateIndex
CREATE INDEX "CountedRun_carId_methodVersion_cruiseClassKey_number_idx" ON "CountedRun"("carId", "methodVersion", "cruiseClassKey", "number");

-- AddForeignKey
ALTER TABLE "FitRun" ADD CONSTRAINT "FitRun_fitId_fkey" FOREIGN KEY ("fitId") REFERENCES "Fit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "FitSetup" ADD CONSTRAINT "FitSetup_fitId_fkey" FOREIGN KEY ("fitId") REFERENCES "Fit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "FitSetup" ADD CONSTRAINT "FitSetup_setupId_fkey" FOREIGN KEY ("setupId") REFERENCES "Setup"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "FitModel" ADD CONSTRAINT "FitModel_fitId_fkey" FOREIGN KEY ("fitId") REFERENCES "Fit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "FitModel" ADD CONSTRAINT "FitModel_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- CreateIndex
CREATE INDEX "Loop_name_id_idx" ON "Loop"("name", "id");
