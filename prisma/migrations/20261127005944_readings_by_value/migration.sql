-- CreateIndex
CREATE INDEX "Reading_quantity_value_idx" ON "Reading"("quantity", "value");
