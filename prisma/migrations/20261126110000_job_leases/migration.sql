-- A running job is held for a while and held on to by a heartbeat; what nobody holds any more is done anew.
ALTER TABLE "Job" ADD COLUMN "leaseUntil" TIMESTAMPTZ(3),
ADD COLUMN "workerId" TEXT,
ADD COLUMN "progress" JSONB;

-- Looked through at every poll: only what runs stands in it.
CREATE INDEX "Job_leases" ON "Job"("leaseUntil") WHERE "state" = 'running';
