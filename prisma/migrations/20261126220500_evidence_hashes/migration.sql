-- Pictures are compared over all runs: by digest, and by a perceptual hash whose bytes an index finds.
ALTER TABLE "EvidenceFile" ADD COLUMN     "capturedUtcOffsetMin" INTEGER,
ADD COLUMN     "isHashed" BOOLEAN NOT NULL DEFAULT false,
ADD COLUMN     "pictureBands" INTEGER[] DEFAULT ARRAY[]::INTEGER[],
ADD COLUMN     "pictureHash" BIGINT,
ADD COLUMN     "sourceSha256" TEXT;

CREATE INDEX "EvidenceFile_sourceSha256_idx" ON "EvidenceFile"("sourceSha256");
CREATE INDEX "EvidenceFile_pictureBands_idx" ON "EvidenceFile" USING GIN ("pictureBands");
CREATE INDEX "EvidenceFile_isHashed_id_idx" ON "EvidenceFile"("isHashed", "id");

-- Whether a picture was ever submitted is asked by the picture.
CREATE INDEX "RevisionEvidence_evidenceId_idx" ON "RevisionEvidence"("evidenceId");
