-- CreateIndex
CREATE INDEX "CountedRun_modelId_methodVersion_day_number_idx" ON "CountedRun"("modelId", "methodVersion", "day", "number");
