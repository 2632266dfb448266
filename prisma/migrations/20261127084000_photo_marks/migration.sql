-- Where on a photo its tester marked the numbers that it proves: on the draft's photo, and as each revision was sent.
ALTER TABLE "EvidenceFile" ADD COLUMN "marks" JSONB NOT NULL DEFAULT '[]';
ALTER TABLE "RevisionEvidence" ADD COLUMN "marks" JSONB NOT NULL DEFAULT '[]';
