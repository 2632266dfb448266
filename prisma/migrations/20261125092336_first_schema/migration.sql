-- CreateEnum
CREATE TYPE "Role" AS ENUM ('reader', 'tester', 'reviewer', 'steward');

-- CreateEnum
CREATE TYPE "RunStatus" AS ENUM ('draft', 'submitted', 'changesAsked', 'approved', 'rejected', 'retracted', 'superseded');

-- CreateEnum
CREATE TYPE "FindingOutcome" AS ENUM ('pass', 'caution', 'fail', 'notChecked');

-- CreateEnum
CREATE TYPE "DecisionKind" AS ENUM ('approve', 'askChanges', 'reject');

-- CreateEnum
CREATE TYPE "BodyClass" AS ENUM ('saloon', 'hatch', 'suv', 'van', 'pickup');

-- CreateEnum
CREATE TYPE "JobState" AS ENUM ('queued', 'running', 'done', 'failed');

-- CreateEnum
CREATE TYPE "ProtocolStatus" AS ENUM ('draft', 'active', 'retired');

-- CreateTable
CREATE TABLE "Account" (
    "id" UUID NOT NULL,
    "email" TEXT,
    "displayName" TEXT NOT NULL,
    "slug" TEXT NOT NULL,
    "passwordHash" TEXT,
    "role" "Role" NOT NULL DEFAULT 'tester',
    "sessionEpoch" INTEGER NOT NULL DEFAULT 0,
    "displaySystem" TEXT NOT NULL DEFAULT 'metric',
    "isDemo" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "erasedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Account_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ExternalIdentity" (
    "provider" TEXT NOT NULL,
    "providerAccountId" TEXT NOT NULL,
    "accountId" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "ExternalIdentity_pkey" PRIMARY KEY ("provider","providerAccountId")
);

-- CreateTable
CREATE TABLE "StewardCode" (
    "id" UUID NOT NULL,
    "codeHash" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "usedAt" TIMESTAMPTZ(3),

    CONSTRAINT "StewardCode_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SignInFailure" (
    "id" BIGSERIAL NOT NULL,
    "email" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "SignInFailure_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Maker" (
    "id" UUID NOT NULL,
    "slug" TEXT NOT NULL,
    "name" TEXT NOT NULL,

    CONSTRAINT "Maker_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "VehicleModel" (
    "id" UUID NOT NULL,
    "makerId" UUID NOT NULL,
    "slug" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "modelYear" INTEGER NOT NULL,
    "variant" TEXT NOT NULL,
    "bodyClass" "BodyClass" NOT NULL,
    "kerbMassKg" DOUBLE PRECISION NOT NULL,
    "usableCapacityWh" DOUBLE PRECISION,
    "dragAreaM2" DOUBLE PRECISION,
    "dragAreaSource" TEXT,
    "hasHeatPump" BOOLEAN NOT NULL DEFAULT false,
    "isDemo" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "VehicleModel_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "FactorLevel" (
    "id" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "factor" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "label" TEXT NOT NULL,
    "tyreKind" TEXT,

    CONSTRAINT "FactorLevel_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Setup" (
    "id" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "slug" TEXT NOT NULL,
    "title" TEXT NOT NULL,
    "levelsKey" TEXT NOT NULL,
    "isDemo" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Setup_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "SetupLevel" (
    "setupId" UUID NOT NULL,
    "factor" TEXT NOT NULL,
    "levelId" UUID NOT NULL,

    CONSTRAINT "SetupLevel_pkey" PRIMARY KEY ("setupId","factor")
);

-- CreateTable
CREATE TABLE "Car" (
    "id" UUID NOT NULL,
    "ownerId" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "registeredMassKg" DOUBLE PRECISION,
    "usableCapacityWh" DOUBLE PRECISION,
    "dragAreaM2" DOUBLE PRECISION,
    "rollingCoefficient" DOUBLE PRECISION,
    "ownValuesSource" TEXT,
    "placardFrontPa" DOUBLE PRECISION,
    "placardRearPa" DOUBLE PRECISION,
    "displayUnits" JSONB NOT NULL DEFAULT '{}',
    "isDemo" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "retiredAt" TIMESTAMPTZ(3),

    CONSTRAINT "Car_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "InstrumentCalibration" (
    "id" UUID NOT NULL,
    "carId" UUID NOT NULL,
    "instrument" TEXT NOT NULL,
    "factor" DOUBLE PRECISION NOT NULL,
    "standardUncertainty" DOUBLE PRECISION NOT NULL,
    "method" TEXT NOT NULL,
    "measuredOn" DATE NOT NULL,
    "odometerM" DOUBLE PRECISION,
    "note" TEXT,
    "invalidatedOn" DATE,
    "invalidatedReason" TEXT,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "InstrumentCalibration_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Loop" (
    "id" UUID NOT NULL,
    "ownerId" UUID NOT NULL,
    "slug" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "region" TEXT NOT NULL,
    "description" TEXT NOT NULL DEFAULT '',
    "turnaround" TEXT NOT NULL,
    "lengthM" DOUBLE PRECISION NOT NULL,
    "lengthUncertaintyM" DOUBLE PRECISION NOT NULL,
    "lengthSource" TEXT NOT NULL,
    "altitudeM" DOUBLE PRECISION NOT NULL,
    "netClimbM" DOUBLE PRECISION NOT NULL DEFAULT 0,
    "grossClimbM" DOUBLE PRECISION,
    "closureDistanceM" DOUBLE PRECISION NOT NULL,
    "closureHeightM" DOUBLE PRECISION NOT NULL,
    "sharedRouteShare" DOUBLE PRECISION NOT NULL,
    "offCruiseShare" DOUBLE PRECISION NOT NULL,
    "postedLimitMps" DOUBLE PRECISION NOT NULL,
    "bearings" JSONB NOT NULL,
    "outline" JSONB,
    "elevationProfile" JSONB,
    "isDemo" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Loop_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "LoopLeg" (
    "loopId" UUID NOT NULL,
    "direction" TEXT NOT NULL,
    "lengthM" DOUBLE PRECISION NOT NULL,
    "netClimbM" DOUBLE PRECISION NOT NULL,
    "bearings" JSONB NOT NULL,

    CONSTRAINT "LoopLeg_pkey" PRIMARY KEY ("loopId","direction")
);

-- CreateTable
CREATE TABLE "Session" (
    "id" UUID NOT NULL,
    "carId" UUID NOT NULL,
    "loopId" UUID NOT NULL,
    "localDate" DATE NOT NULL,

    CONSTRAINT "Session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "CruiseClass" (
    "key" TEXT NOT NULL,
    "label" TEXT NOT NULL,
    "speedMps" DOUBLE PRECISION NOT NULL,
    "ordinal" INTEGER NOT NULL,

    CONSTRAINT "CruiseClass_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "Run" (
    "id" UUID NOT NULL,
    "number" SERIAL NOT NULL,
    "testerId" UUID NOT NULL,
    "status" "RunStatus" NOT NULL DEFAULT 'draft',
    "creationKey" TEXT NOT NULL,
    "draft" JSONB NOT NULL,
    "draftVersion" INTEGER NOT NULL DEFAULT 1,
    "draftSavedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "carId" UUID,
    "setupId" UUID,
    "loopId" UUID,
    "sessionId" UUID,
    "cruiseClassKey" TEXT,
    "submittedAt" TIMESTAMPTZ(3),
    "decidedAt" TIMESTAMPTZ(3),
    "approvedRevision" INTEGER,
    "supersededById" UUID,
    "isDemo" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Run_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RunRevision" (
    "id" UUID NOT NULL,
    "runId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "submittedById" UUID NOT NULL,
    "submittedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "form" JSONB NOT NULL,
    "contentHash" TEXT NOT NULL,
    "startedAt" TIMESTAMPTZ(3) NOT NULL,
    "utcOffsetMin" INTEGER NOT NULL,
    "localDate" DATE NOT NULL,
    "trueSpeedMethod" TEXT NOT NULL,
    "climate" TEXT NOT NULL,
    "chargerKind" TEXT,
    "isRetrospective" BOOLEAN NOT NULL DEFAULT false,
    "notes" TEXT NOT NULL DEFAULT '',
    "protocolVersionId" UUID NOT NULL,

    CONSTRAINT "RunRevision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Reading" (
    "revisionId" UUID NOT NULL,
    "quantity" TEXT NOT NULL,
    "moment" TEXT NOT NULL,
    "instrument" TEXT NOT NULL,
    "enteredText" TEXT NOT NULL,
    "enteredUnit" TEXT NOT NULL,
    "value" DOUBLE PRECISION NOT NULL,
    "low" DOUBLE PRECISION NOT NULL,
    "high" DOUBLE PRECISION NOT NULL,

    CONSTRAINT "Reading_pkey" PRIMARY KEY ("revisionId","quantity")
);

-- CreateTable
CREATE TABLE "Conditions" (
    "revisionId" UUID NOT NULL,
    "source" TEXT NOT NULL,
    "airTemperatureC" DOUBLE PRECISION NOT NULL,
    "airTemperatureUC" DOUBLE PRECISION NOT NULL,
    "pressurePa" DOUBLE PRECISION,
    "pressureKind" TEXT NOT NULL,
    "relativeHumidity" DOUBLE PRECISION,
    "dewPointC" DOUBLE PRECISION,
    "windSpeedMps" DOUBLE PRECISION,
    "windFromDeg" DOUBLE PRECISION,
    "windGustMps" DOUBLE PRECISION,
    "stationDistanceM" DOUBLE PRECISION,
    "precipitation" TEXT NOT NULL,
    "road" TEXT NOT NULL,
    "traffic" TEXT NOT NULL,
    "closeFollowing" TEXT NOT NULL,
    "stationReport" TEXT,

    CONSTRAINT "Conditions_pkey" PRIMARY KEY ("revisionId")
);

-- CreateTable
CREATE TABLE "EvidenceFile" (
    "id" UUID NOT NULL,
    "runId" UUID NOT NULL,
    "uploadedById" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "thumbSha256" TEXT NOT NULL,
    "mime" TEXT NOT NULL,
    "widthPx" INTEGER NOT NULL,
    "heightPx" INTEGER NOT NULL,
    "sizeBytes" INTEGER NOT NULL,
    "capturedAt" TIMESTAMPTZ(3),
    "uploadedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "removedAt" TIMESTAMPTZ(3),

    CONSTRAINT "EvidenceFile_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RevisionEvidence" (
    "revisionId" UUID NOT NULL,
    "evidenceId" UUID NOT NULL,

    CONSTRAINT "RevisionEvidence_pkey" PRIMARY KEY ("revisionId","evidenceId")
);

-- CreateTable
CREATE TABLE "ProtocolVersion" (
    "id" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "status" "ProtocolStatus" NOT NULL DEFAULT 'draft',
    "parameters" JSONB NOT NULL,
    "summary" TEXT NOT NULL,
    "createdById" UUID,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "adoptedAt" TIMESTAMPTZ(3),
    "retiredAt" TIMESTAMPTZ(3),

    CONSTRAINT "ProtocolVersion_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Finding" (
    "revisionId" UUID NOT NULL,
    "protocolVersionId" UUID NOT NULL,
    "ruleId" TEXT NOT NULL,
    "outcome" "FindingOutcome" NOT NULL,
    "numbers" JSONB NOT NULL,
    "sentence" TEXT NOT NULL,

    CONSTRAINT "Finding_pkey" PRIMARY KEY ("revisionId","protocolVersionId","ruleId")
);

-- CreateTable
CREATE TABLE "Normalisation" (
    "revisionId" UUID NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "computedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "input" JSONB NOT NULL,
    "result" JSONB NOT NULL,
    "isNormalised" BOOLEAN NOT NULL,
    "measuredWhPerKm" DOUBLE PRECISION NOT NULL,
    "normalisedWhPerKm" DOUBLE PRECISION,
    "uWhPerKm" DOUBLE PRECISION,
    "uRunRelative" DOUBLE PRECISION,
    "effectiveDof" DOUBLE PRECISION,
    "adjustmentRelative" DOUBLE PRECISION,

    CONSTRAINT "Normalisation_pkey" PRIMARY KEY ("revisionId","methodVersion")
);

-- CreateTable
CREATE TABLE "ReviewClaim" (
    "id" UUID NOT NULL,
    "runId" UUID NOT NULL,
    "reviewerId" UUID NOT NULL,
    "claimedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "releasedAt" TIMESTAMPTZ(3),

    CONSTRAINT "ReviewClaim_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Decision" (
    "id" UUID NOT NULL,
    "revisionId" UUID NOT NULL,
    "reviewerId" UUID NOT NULL,
    "kind" "DecisionKind" NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "decidedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Decision_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "DecisionReason" (
    "decisionId" UUID NOT NULL,
    "ruleId" TEXT NOT NULL,
    "text" TEXT NOT NULL,

    CONSTRAINT "DecisionReason_pkey" PRIMARY KEY ("decisionId","ruleId")
);

-- CreateTable
CREATE TABLE "Retraction" (
    "runId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "retractedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Retraction_pkey" PRIMARY KEY ("runId")
);

-- CreateTable
CREATE TABLE "Notification" (
    "id" UUID NOT NULL,
    "accountId" UUID NOT NULL,
    "runId" UUID,
    "kind" TEXT NOT NULL,
    "text" TEXT NOT NULL,
    "href" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "readAt" TIMESTAMPTZ(3),

    CONSTRAINT "Notification_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AuditEntry" (
    "id" BIGSERIAL NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "actorId" UUID,
    "action" TEXT NOT NULL,
    "subjectKind" TEXT NOT NULL,
    "subjectId" TEXT NOT NULL,
    "details" JSONB NOT NULL DEFAULT '{}',

    CONSTRAINT "AuditEntry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ComparisonGroup" (
    "id" UUID NOT NULL,
    "cruiseClassKey" TEXT NOT NULL,
    "isDemo" BOOLEAN NOT NULL,

    CONSTRAINT "ComparisonGroup_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Fit" (
    "id" UUID NOT NULL,
    "groupId" UUID NOT NULL,
    "methodVersion" TEXT NOT NULL,
    "fittedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "isCurrent" BOOLEAN NOT NULL,
    "runCount" INTEGER NOT NULL,
    "converged" BOOLEAN NOT NULL,
    "seed" INTEGER NOT NULL,
    "durationMs" DOUBLE PRECISION NOT NULL,
    "summary" JSONB NOT NULL,

    CONSTRAINT "Fit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Estimate" (
    "fitId" UUID NOT NULL,
    "setupId" UUID NOT NULL,
    "runs" INTEGER NOT NULL,
    "cars" INTEGER NOT NULL,
    "testers" INTEGER NOT NULL,
    "loops" INTEGER NOT NULL,
    "days" INTEGER NOT NULL,
    "sessions" INTEGER NOT NULL,
    "logMean" DOUBLE PRECISION NOT NULL,
    "logSe" DOUBLE PRECISION,
    "dof" DOUBLE PRECISION,
    "estimateWhPerKm" DOUBLE PRECISION NOT NULL,
    "lowWhPerKm" DOUBLE PRECISION,
    "highWhPerKm" DOUBLE PRECISION,
    "intervalKind" TEXT NOT NULL,
    "rawMeanWhPerKm" DOUBLE PRECISION NOT NULL,
    "isRanked" BOOLEAN NOT NULL,
    "label" TEXT NOT NULL,
    "missing" JSONB NOT NULL DEFAULT '[]',
    "rankLower" INTEGER,
    "rankUpper" INTEGER,
    "chanceOfLowest" DOUBLE PRECISION,
    "groupLetters" TEXT,
    "component" INTEGER NOT NULL,
    "details" JSONB NOT NULL DEFAULT '{}',

    CONSTRAINT "Estimate_pkey" PRIMARY KEY ("fitId","setupId")
);

-- CreateTable
CREATE TABLE "Contrast" (
    "fitId" UUID NOT NULL,
    "setupAId" UUID NOT NULL,
    "setupBId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "chainLength" INTEGER NOT NULL,
    "differenceLog" DOUBLE PRECISION,
    "logSe" DOUBLE PRECISION,
    "dof" DOUBLE PRECISION,
    "lowLog" DOUBLE PRECISION,
    "highLog" DOUBLE PRECISION,
    "simultaneousLowLog" DOUBLE PRECISION,
    "simultaneousHighLog" DOUBLE PRECISION,
    "pHolm" DOUBLE PRECISION,
    "isSeparable" BOOLEAN NOT NULL,
    "sharedULog" DOUBLE PRECISION,
    "reason" TEXT,
    "details" JSONB NOT NULL DEFAULT '{}',

    CONSTRAINT "Contrast_pkey" PRIMARY KEY ("fitId","setupAId","setupBId")
);

-- CreateTable
CREATE TABLE "LearnedRoadLoad" (
    "id" UUID NOT NULL,
    "modelId" UUID NOT NULL,
    "learnedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "isCurrent" BOOLEAN NOT NULL,
    "runCount" INTEGER NOT NULL,
    "beatsPriors" BOOLEAN NOT NULL,
    "result" JSONB NOT NULL,

    CONSTRAINT "LearnedRoadLoad_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Job" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "state" "JobState" NOT NULL DEFAULT 'queued',
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "runAfter" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "queuedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "startedAt" TIMESTAMPTZ(3),
    "finishedAt" TIMESTAMPTZ(3),
    "error" TEXT,

    CONSTRAINT "Job_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Setting" (
    "key" TEXT NOT NULL,
    "value" JSONB NOT NULL,

    CONSTRAINT "Setting_pkey" PRIMARY KEY ("key")
);

-- CreateIndex
CREATE UNIQUE INDEX "Account_email_key" ON "Account"("email");

-- CreateIndex
CREATE UNIQUE INDEX "Account_slug_key" ON "Account"("slug");

-- CreateIndex
CREATE INDEX "ExternalIdentity_accountId_idx" ON "ExternalIdentity"("accountId");

-- CreateIndex
CREATE INDEX "SignInFailure_email_at_idx" ON "SignInFailure"("email", "at");

-- CreateIndex
CREATE UNIQUE INDEX "Maker_slug_key" ON "Maker"("slug");

-- CreateIndex
CREATE UNIQUE INDEX "Maker_name_key" ON "Maker"("name");

-- CreateIndex
CREATE UNIQUE INDEX "VehicleModel_slug_key" ON "VehicleModel"("slug");

-- CreateIndex
CREATE UNIQUE INDEX "VehicleModel_makerId_name_modelYear_variant_key" ON "VehicleModel"("makerId", "name", "modelYear", "variant");

-- CreateIndex
CREATE UNIQUE INDEX "FactorLevel_modelId_factor_key_key" ON "FactorLevel"("modelId", "factor", "key");

-- CreateIndex
CREATE UNIQUE INDEX "FactorLevel_id_factor_key" ON "FactorLevel"("id", "factor");

-- CreateIndex
CREATE UNIQUE INDEX "Setup_slug_key" ON "Setup"("slug");

-- CreateIndex
CREATE UNIQUE INDEX "Setup_modelId_levelsKey_key" ON "Setup"("modelId", "levelsKey");

-- CreateIndex
CREATE UNIQUE INDEX "Car_ownerId_name_key" ON "Car"("ownerId", "name");

-- CreateIndex
CREATE INDEX "InstrumentCalibration_carId_instrument_idx" ON "InstrumentCalibration"("carId", "instrument");

-- CreateIndex
CREATE UNIQUE INDEX "Loop_slug_key" ON "Loop"("slug");

-- CreateIndex
CREATE UNIQUE INDEX "Session_carId_loopId_localDate_key" ON "Session"("carId", "loopId", "localDate");

-- CreateIndex
CREATE UNIQUE INDEX "CruiseClass_ordinal_key" ON "CruiseClass"("ordinal");

-- CreateIndex
CREATE UNIQUE INDEX "Run_number_key" ON "Run"("number");

-- CreateIndex
CREATE UNIQUE INDEX "Run_supersededById_key" ON "Run"("supersededById");

-- CreateIndex
CREATE INDEX "Run_status_submittedAt_idx" ON "Run"("status", "submittedAt");

-- CreateIndex
CREATE INDEX "Run_setupId_status_idx" ON "Run"("setupId", "status");

-- CreateIndex
CREATE INDEX "Run_cruiseClassKey_status_idx" ON "Run"("cruiseClassKey", "status");

-- CreateIndex
CREATE INDEX "Run_testerId_status_idx" ON "Run"("testerId", "status");

-- CreateIndex
CREATE INDEX "Run_carId_idx" ON "Run"("carId");

-- CreateIndex
CREATE INDEX "Run_loopId_idx" ON "Run"("loopId");

-- CreateIndex
CREATE INDEX "Run_sessionId_idx" ON "Run"("sessionId");

-- CreateIndex
CREATE UNIQUE INDEX "Run_testerId_creationKey_key" ON "Run"("testerId", "creationKey");

-- CreateIndex
CREATE INDEX "RunRevision_contentHash_idx" ON "RunRevision"("contentHash");

-- CreateIndex
CREATE UNIQUE INDEX "RunRevision_runId_number_key" ON "RunRevision"("runId", "number");

-- CreateIndex
CREATE INDEX "EvidenceFile_runId_idx" ON "EvidenceFile"("runId");

-- CreateIndex
CREATE INDEX "EvidenceFile_sha256_idx" ON "EvidenceFile"("sha256");

-- CreateIndex
CREATE INDEX "EvidenceFile_thumbSha256_idx" ON "EvidenceFile"("thumbSha256");

-- CreateIndex
CREATE UNIQUE INDEX "ProtocolVersion_label_key" ON "ProtocolVersion"("label");

-- CreateIndex
CREATE INDEX "ReviewClaim_runId_idx" ON "ReviewClaim"("runId");

-- CreateIndex
CREATE INDEX "ReviewClaim_reviewerId_idx" ON "ReviewClaim"("reviewerId");

-- CreateIndex
CREATE UNIQUE INDEX "Decision_revisionId_key" ON "Decision"("revisionId");

-- CreateIndex
CREATE INDEX "Notification_accountId_readAt_idx" ON "Notification"("accountId", "readAt");

-- CreateIndex
CREATE INDEX "AuditEntry_subjectKind_subjectId_idx" ON "AuditEntry"("subjectKind", "subjectId");

-- CreateIndex
CREATE INDEX "AuditEntry_actorId_idx" ON "AuditEntry"("actorId");

-- CreateIndex
CREATE INDEX "AuditEntry_at_idx" ON "AuditEntry"("at");

-- CreateIndex
CREATE UNIQUE INDEX "ComparisonGroup_cruiseClassKey_isDemo_key" ON "ComparisonGroup"("cruiseClassKey", "isDemo");

-- CreateIndex
CREATE INDEX "Fit_groupId_isCurrent_idx" ON "Fit"("groupId", "isCurrent");

-- CreateIndex
CREATE INDEX "Estimate_setupId_idx" ON "Estimate"("setupId");

-- CreateIndex
CREATE INDEX "Contrast_setupAId_idx" ON "Contrast"("setupAId");

-- CreateIndex
CREATE INDEX "Contrast_setupBId_idx" ON "Contrast"("setupBId");

-- CreateIndex
CREATE INDEX "LearnedRoadLoad_modelId_isCurrent_idx" ON "LearnedRoadLoad"("modelId", "isCurrent");

-- CreateIndex
CREATE INDEX "Job_state_runAfter_idx" ON "Job"("state", "runAfter");

-- CreateIndex
CREATE INDEX "Job_kind_key_idx" ON "Job"("kind", "key");

-- AddForeignKey
ALTER TABLE "ExternalIdentity" ADD CONSTRAINT "ExternalIdentity_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "VehicleModel" ADD CONSTRAINT "VehicleModel_makerId_fkey" FOREIGN KEY ("makerId") REFERENCES "Maker"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "FactorLevel" ADD CONSTRAINT "FactorLevel_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Setup" ADD CONSTRAINT "Setup_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SetupLevel" ADD CONSTRAINT "SetupLevel_setupId_fkey" FOREIGN KEY ("setupId") REFERENCES "Setup"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "SetupLevel" ADD CONSTRAINT "SetupLevel_levelId_factor_fkey" FOREIGN KEY ("levelId", "factor") REFERENCES "FactorLevel"("id", "factor") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Car" ADD CONSTRAINT "Car_ownerId_fkey" FOREIGN KEY ("ownerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Car" ADD CONSTRAINT "Car_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "InstrumentCalibration" ADD CONSTRAINT "InstrumentCalibration_carId_fkey" FOREIGN KEY ("carId") REFERENCES "Car"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Loop" ADD CONSTRAINT "Loop_ownerId_fkey" FOREIGN KEY ("ownerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LoopLeg" ADD CONSTRAINT "LoopLeg_loopId_fkey" FOREIGN KEY ("loopId") REFERENCES "Loop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Session" ADD CONSTRAINT "Session_carId_fkey" FOREIGN KEY ("carId") REFERENCES "Car"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Session" ADD CONSTRAINT "Session_loopId_fkey" FOREIGN KEY ("loopId") REFERENCES "Loop"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_testerId_fkey" FOREIGN KEY ("testerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_carId_fkey" FOREIGN KEY ("carId") REFERENCES "Car"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_setupId_fkey" FOREIGN KEY ("setupId") REFERENCES "Setup"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_loopId_fkey" FOREIGN KEY ("loopId") REFERENCES "Loop"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_sessionId_fkey" FOREIGN KEY ("sessionId") REFERENCES "Session"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_cruiseClassKey_fkey" FOREIGN KEY ("cruiseClassKey") REFERENCES "CruiseClass"("key") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Run" ADD CONSTRAINT "Run_supersededById_fkey" FOREIGN KEY ("supersededById") REFERENCES "Run"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RunRevision" ADD CONSTRAINT "RunRevision_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RunRevision" ADD CONSTRAINT "RunRevision_submittedById_fkey" FOREIGN KEY ("submittedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RunRevision" ADD CONSTRAINT "RunRevision_protocolVersionId_fkey" FOREIGN KEY ("protocolVersionId") REFERENCES "ProtocolVersion"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Reading" ADD CONSTRAINT "Reading_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Conditions" ADD CONSTRAINT "Conditions_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "EvidenceFile" ADD CONSTRAINT "EvidenceFile_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "EvidenceFile" ADD CONSTRAINT "EvidenceFile_uploadedById_fkey" FOREIGN KEY ("uploadedById") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RevisionEvidence" ADD CONSTRAINT "RevisionEvidence_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "RevisionEvidence" ADD CONSTRAINT "RevisionEvidence_evidenceId_fkey" FOREIGN KEY ("evidenceId") REFERENCES "EvidenceFile"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ProtocolVersion" ADD CONSTRAINT "ProtocolVersion_createdById_fkey" FOREIGN KEY ("createdById") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Finding" ADD CONSTRAINT "Finding_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Finding" ADD CONSTRAINT "Finding_protocolVersionId_fkey" FOREIGN KEY ("protocolVersionId") REFERENCES "ProtocolVersion"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Normalisation" ADD CONSTRAINT "Normalisation_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReviewClaim" ADD CONSTRAINT "ReviewClaim_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReviewClaim" ADD CONSTRAINT "ReviewClaim_reviewerId_fkey" FOREIGN KEY ("reviewerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Decision" ADD CONSTRAINT "Decision_revisionId_fkey" FOREIGN KEY ("revisionId") REFERENCES "RunRevision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Decision" ADD CONSTRAINT "Decision_reviewerId_fkey" FOREIGN KEY ("reviewerId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DecisionReason" ADD CONSTRAINT "DecisionReason_decisionId_fkey" FOREIGN KEY ("decisionId") REFERENCES "Decision"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Retraction" ADD CONSTRAINT "Retraction_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Retraction" ADD CONSTRAINT "Retraction_byId_fkey" FOREIGN KEY ("byId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Notification" ADD CONSTRAINT "Notification_accountId_fkey" FOREIGN KEY ("accountId") REFERENCES "Account"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Notification" ADD CONSTRAINT "Notification_runId_fkey" FOREIGN KEY ("runId") REFERENCES "Run"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "AuditEntry" ADD CONSTRAINT "AuditEntry_actorId_fkey" FOREIGN KEY ("actorId") REFERENCES "Account"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ComparisonGroup" ADD CONSTRAINT "ComparisonGroup_cruiseClassKey_fkey" FOREIGN KEY ("cruiseClassKey") REFERENCES "CruiseClass"("key") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Fit" ADD CONSTRAINT "Fit_groupId_fkey" FOREIGN KEY ("groupId") REFERENCES "ComparisonGroup"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Estimate" ADD CONSTRAINT "Estimate_fitId_fkey" FOREIGN KEY ("fitId") REFERENCES "Fit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Estimate" ADD CONSTRAINT "Estimate_setupId_fkey" FOREIGN KEY ("setupId") REFERENCES "Setup"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Contrast" ADD CONSTRAINT "Contrast_fitId_fkey" FOREIGN KEY ("fitId") REFERENCES "Fit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Contrast" ADD CONSTRAINT "Contrast_setupAId_fkey" FOREIGN KEY ("setupAId") REFERENCES "Setup"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Contrast" ADD CONSTRAINT "Contrast_setupBId_fkey" FOREIGN KEY ("setupBId") REFERENCES "Setup"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LearnedRoadLoad" ADD CONSTRAINT "LearnedRoadLoad_modelId_fkey" FOREIGN KEY ("modelId") REFERENCES "VehicleModel"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
