-- What a revision's numbers are made from, kept with it from now on. Revisions from before are given theirs once, at
-- the next start, and are marked.
CREATE TABLE "RevisionInputs" (
    "revisionId" UUID NOT NULL,
    "snapshot" JSONB NOT NULL,
    "origin" TEXT NOT NULL,
    "takenAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "RevisionInputs_pkey" PRIMARY KEY ("revisionId")
);

ALTER TABLE "RevisionInputs" ADD CONSTRAINT "RevisionInputs_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "RevisionInputs" ADD CONSTRAINT "RevisionInputs_origin" CHECK ("origin" IN ('submitted', 'reconstructed'));
CREATE TRIGGER "RevisionInputs_append_only" BEFORE UPDATE OR DELETE ON "RevisionInputs"
  FOR EACH ROW EXECUTE FUNCTION refuse_change();
