export interface paths {
    "/rankings": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The setups of a class, the lowest consumption first */
        get: operations["getRankings"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/comparisons": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Setups of one class against the first of them */
        get: operations["compareSetups"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/setups": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The setups of a model */
        get: operations["listSetups"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/setups/{slug}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A setup: its levels and its estimate in every class */
        get: operations["getSetup"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/models": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Models by maker and name */
        get: operations["listModels"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/models/{slug}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A model: its data sheet, and its setups in one class */
        get: operations["getModel"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/factors": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** What each factor does in one class, as far as it can be said */
        get: operations["listFactors"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/factors/{key}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One factor in one class, model by model */
        get: operations["getFactor"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/runs": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Published runs, the latest first */
        get: operations["listRuns"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/runs/{number}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** One published run: readings, conditions, result, findings */
        get: operations["getRun"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/loops": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Loops by name */
        get: operations["listLoops"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/loops/{slug}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A loop: its route, heights and directions */
        get: operations["getLoop"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/studies": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** Studies in one state, the newest first */
        get: operations["listStudies"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/studies/{slug}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A study: its plan, its runs, and where it stands */
        get: operations["getStudy"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/protocol": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The protocol in force, and the versions there are */
        get: operations["getProtocol"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/protocol/{version}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** A published version of the protocol */
        get: operations["getProtocolVersion"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/method": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /** The method in force: reference conditions, how far it reaches, what it assumes */
        get: operations["getMethod"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
}
export type webhooks = Record<string, never>;
export interface components {
    schemas: {
        Rankings: {
            /** @description Key of the class */
            cruiseClass: string;
            /** @description True cruise speed of the class, m/s */
            speedMps: number;
            world: components["schemas"]["World"];
            classes: components["schemas"]["CruiseClass"][];
            /** @description When it was fitted */
            fittedAt: string;
            /** @description Version of the method */
            methodVersion: string;
            /** @description Runs in the fit */
            runCount: number;
            converged: boolean;
            /** @description What speaks against its intervals; null: not known */
            faults: string[] | null;
            notes: string[];
            /** @description Setups with a place, before filters */
            rankedOf: number;
            ranked: components["schemas"]["RankedSetup"][];
            next: string | null;
            previous: string | null;
            /** @description The first of those without a place */
            notRanked: components["schemas"]["RankedSetup"][];
            /** @description All of those without a place */
            notRankedOf: number;
        };
        /** @description “record” is what was driven; “demo” is invented and marked so. */
        World: string;
        CruiseClass: {
            /** @description Key */
            key: string;
            /** @description Label */
            label: string;
            /** @description Runs of its fit */
            runs: number;
        };
        RankedSetup: {
            /** @description Runs behind it */
            runs: number;
            /** @description Physical cars */
            cars: number;
            /** @description Testers */
            testers: number;
            /** @description Loops */
            loops: number;
            /** @description Days */
            days: number;
            /** @description Consumption at reference conditions as fitted, of a further car of the model, Wh/km */
            estimateWhPerKm: number;
            lowWhPerKm: number | null;
            highWhPerKm: number | null;
            /** @description What the interval holds, or “none” */
            intervalKind: string;
            rawMeanWhPerKm: number | null;
            /** @description Whether it meets what a place in the ranking asks */
            isRanked: boolean;
            /** @description What a reader has to know of so few data; empty where nothing */
            label: string;
            /** @description Part of the address of the setup */
            slug: string;
            /** @description Title of the setup */
            title: string;
            /** @description Part of the address of its model */
            model: string;
            /** @description Body */
            bodyClass: string;
            /** @description Least rank that the intervals leave open */
            rankLower: number | null;
            /** @description Greatest rank that they leave open */
            rankUpper: number | null;
            /** @description Chance, 0 to 1, of being the lowest of those that may be compared */
            chanceOfLowest: number | null;
            against: components["schemas"]["Difference"] | null;
        };
        Difference: {
            percent: number | null;
            pointwise: number[] | null;
            ofModel: number[] | null;
            simultaneous: number[] | null;
            /** @description How strong the evidence is; null without an interval */
            word: ("settled" | "probable" | "leaning" | "undecided") | null;
            /** @description It would be settled, but rests on one tester */
            restsOnOne: boolean;
            /** @description What joins the two in the data */
            connection: string;
            refusal: string | null;
            /** @description How well runs repeat is partly assumed: the class is young */
            isAssumed: boolean;
            detectablePercent: number | null;
        };
        Problem: {
            type: string;
            status: number;
            /** @description What is the matter, in a sentence */
            title: string;
            issues: {
                /** @description Part of the query or address */
                path: string;
                what: string;
                why: string;
                fix: string;
            }[];
        };
        Comparison: {
            /** @description Key of the class */
            cruiseClass: string;
            world: components["schemas"]["World"];
            /** @description When it was fitted */
            fittedAt: string | null;
            runCount: number | null;
            pairsAtOnce: number | null;
            baseline: components["schemas"]["ComparedSetup"] | null;
            differences: components["schemas"]["DifferenceOfSetup"][];
            /** @description Asked for, but without a run in this class */
            unknown: string[];
        };
        ComparedSetup: {
            /** @description Runs behind it */
            runs: number;
            /** @description Physical cars */
            cars: number;
            /** @description Testers */
            testers: number;
            /** @description Loops */
            loops: number;
            /** @description Days */
            days: number;
            /** @description Consumption at reference conditions as fitted, of a further car of the model, Wh/km */
            estimateWhPerKm: number;
            lowWhPerKm: number | null;
            highWhPerKm: number | null;
            /** @description What the interval holds, or “none” */
            intervalKind: string;
            rawMeanWhPerKm: number | null;
            /** @description What a reader has to know of so few data; empty where nothing */
            label: string;
            /** @description Part of the address of the setup */
            slug: string;
            /** @description Title, with the model where there are several */
            name: string;
        };
        DifferenceOfSetup: {
            percent: number | null;
            pointwise: number[] | null;
            ofModel: number[] | null;
            simultaneous: number[] | null;
            /** @description How strong the evidence is; null without an interval */
            word: ("settled" | "probable" | "leaning" | "undecided") | null;
            /** @description It would be settled, but rests on one tester */
            restsOnOne: boolean;
            /** @description What joins the two in the data */
            connection: string;
            refusal: string | null;
            /** @description How well runs repeat is partly assumed: the class is young */
            isAssumed: boolean;
            detectablePercent: number | null;
            /** @description Part of the address of the setup */
            setup: string;
            /** @description Its estimate, Wh/km */
            estimateWhPerKm: number;
            /** @description What plain means as measured would have said, % */
            rawPercent: number;
        };
        Level: {
            /** @description Factor */
            factor: string;
            /** @description Key */
            key: string;
            /** @description Level */
            label: string;
            /** @description As the model is delivered */
            isAsDelivered: boolean;
        };
        Setup: {
            /** @description Part of the address of the setup */
            slug: string;
            /** @description Title */
            title: string;
            world: components["schemas"]["World"];
            /** @description Part of the address of the model */
            model: string;
            levels: components["schemas"]["Level"][];
            /** @description As delivered */
            isBaseline: boolean;
            estimates: components["schemas"]["EstimateOfClass"][];
            againstBaseline: components["schemas"]["Difference"] | null;
        };
        EstimateOfClass: {
            /** @description Runs behind it */
            runs: number;
            /** @description Physical cars */
            cars: number;
            /** @description Testers */
            testers: number;
            /** @description Loops */
            loops: number;
            /** @description Days */
            days: number;
            /** @description Consumption at reference conditions as fitted, of a further car of the model, Wh/km */
            estimateWhPerKm: number;
            lowWhPerKm: number | null;
            highWhPerKm: number | null;
            /** @description What the interval holds, or “none” */
            intervalKind: string;
            rawMeanWhPerKm: number | null;
            /** @description Whether it meets what a place in the ranking asks */
            isRanked: boolean;
            /** @description What a reader has to know of so few data; empty where nothing */
            label: string;
            /** @description Key of the class */
            cruiseClass: string;
            /** @description Least rank that the intervals leave open */
            rankLower: number | null;
            /** @description Greatest rank that they leave open */
            rankUpper: number | null;
            /** @description Setups with a place in the class */
            rankedOf: number;
            /** @description When the class was fitted */
            fittedAt: string;
        };
        ListedModel: {
            /** @description Part of the address of the model */
            slug: string;
            /** @description Maker */
            maker: string;
            /** @description Name */
            name: string;
            /** @description Model year */
            modelYear: number;
            /** @description Variant; may be empty */
            variant: string;
            /** @description Body */
            bodyClass: string;
            /** @description Setups */
            setups: number;
            /** @description Physical cars */
            cars: number;
            /** @description Runs that count */
            runs: number;
            world: components["schemas"]["World"];
        };
        Model: {
            /** @description Part of the address of the model */
            slug: string;
            /** @description Maker, name and variant */
            name: string;
            world: components["schemas"]["World"];
            /** @description Body */
            bodyClass: string;
            /** @description kg */
            kerbMassKg: number;
            /** @description Of a new battery, Wh */
            usableCapacityWh: number | null;
            /** @description Drag coefficient times frontal area, m² */
            dragAreaM2: number | null;
            hasHeatPump: boolean;
            classes: components["schemas"]["CruiseClass"][];
            cruiseClass: string | null;
            /** @description When the class was fitted */
            fittedAt: string | null;
            baseline: string | null;
            setups: components["schemas"]["SetupOfModel"][];
            changes: components["schemas"]["Change"][];
        };
        SetupOfModel: {
            /** @description Part of the address of the setup */
            slug: string;
            /** @description Title */
            title: string;
            levels: components["schemas"]["Level"][];
            /** @description Runs that count, in all classes */
            runs: number;
            estimate: components["schemas"]["Estimate"] | null;
        };
        Estimate: {
            /** @description Runs behind it */
            runs: number;
            /** @description Physical cars */
            cars: number;
            /** @description Testers */
            testers: number;
            /** @description Loops */
            loops: number;
            /** @description Days */
            days: number;
            /** @description Consumption at reference conditions as fitted, of a further car of the model, Wh/km */
            estimateWhPerKm: number;
            lowWhPerKm: number | null;
            highWhPerKm: number | null;
            /** @description What the interval holds, or “none” */
            intervalKind: string;
            rawMeanWhPerKm: number | null;
            /** @description Whether it meets what a place in the ranking asks */
            isRanked: boolean;
            /** @description What a reader has to know of so few data; empty where nothing */
            label: string;
        };
        Change: {
            /** @description Part of the address of the setup */
            setup: string;
            /** @description The one factor in which it differs from the baseline */
            factor: string;
            /** @description Level of the baseline */
            fromLevel: string;
            /** @description Level of the setup */
            toLevel: string;
            difference: components["schemas"]["Difference"];
        };
        Factors: {
            /** @description Key of the class */
            cruiseClass: string;
            world: components["schemas"]["World"];
            fittedAt: string | null;
            factors: components["schemas"]["Factor"][];
        };
        Factor: {
            /** @description Key */
            key: string;
            /** @description Name */
            label: string;
            effects: components["schemas"]["FactorEffect"][];
        };
        FactorEffect: {
            /** @description Shared level */
            level: string;
            /** @description Shared level that it is held against */
            baseline: string;
            models: components["schemas"]["EffectInModel"][];
            /** @description Models that have such a pair */
            of: number;
            pooled: components["schemas"]["PooledEffect"] | null;
        };
        EffectInModel: {
            percent: number | null;
            pointwise: number[] | null;
            ofModel: number[] | null;
            simultaneous: number[] | null;
            /** @description How strong the evidence is; null without an interval */
            word: ("settled" | "probable" | "leaning" | "undecided") | null;
            /** @description It would be settled, but rests on one tester */
            restsOnOne: boolean;
            /** @description What joins the two in the data */
            connection: string;
            refusal: string | null;
            /** @description How well runs repeat is partly assumed: the class is young */
            isAssumed: boolean;
            detectablePercent: number | null;
            /** @description Part of the address of the model */
            model: string;
            /** @description Part of the address of the setup that it is held against */
            baseline: string;
            /** @description Part of the address of the setup */
            setup: string;
            /** @description Estimate of the baseline, Wh/km */
            baselineWhPerKm: number;
        };
        PooledEffect: {
            percent: number | null;
            pointwise: number[] | null;
            ofModel: number[] | null;
            simultaneous: number[] | null;
            /** @description How strong the evidence is; null without an interval */
            word: ("settled" | "probable" | "leaning" | "undecided") | null;
            /** @description It would be settled, but rests on one tester */
            restsOnOne: boolean;
            /** @description What joins the two in the data */
            connection: string;
            refusal: string | null;
            /** @description How well runs repeat is partly assumed: the class is young */
            isAssumed: boolean;
            detectablePercent: number | null;
            /** @description Models pooled */
            models: number;
            further: number[] | null;
        };
        FactorOfClass: {
            /** @description Key of the class */
            cruiseClass: string;
            world: components["schemas"]["World"];
            fittedAt: string | null;
            /** @description Key */
            key: string;
            /** @description Name */
            label: string;
            effects: components["schemas"]["FactorEffect"][];
            /** @description What single models say where none can be pooled */
            singly: components["schemas"]["EffectInModel"][];
        };
        ListedRun: {
            /** @description Number of the run */
            number: number;
            /**
             * @description Only “approved” counts
             * @enum {string}
             */
            status: "approved" | "retracted" | "superseded";
            world: components["schemas"]["World"];
            /**
             * Format: date
             * @description Day of the drive, at the loop
             */
            day: string;
            tester: {
                /** @description Part of the address of its tester */
                slug: string;
                /** @description Name of its tester */
                name: string;
            };
            /** @description Maker, name and variant of the car */
            model: string;
            setup: {
                /** @description Part of the address of its setup */
                slug: string;
                /** @description Name of its setup */
                name: string;
            };
            loop: {
                /** @description Part of the address of its loop */
                slug: string;
                /** @description Name of its loop */
                name: string;
            };
            /** @description Label of its cruise class */
            cruiseClass: string;
            measuredWhPerKm: number | null;
            normalised: components["schemas"]["Normalised"] | null;
            /** @description Air temperature, °C */
            airTemperatureC: number | null;
            /** @description Mean wind at the station, m/s */
            windSpeedMps: number | null;
        };
        /** @description Null where the conditions lay outside the method’s reach */
        Normalised: {
            /** @description Consumption at reference conditions, Wh/km */
            whPerKm: number;
            /** @description Its standard uncertainty, Wh/km */
            uWhPerKm: number;
            /** @description 95 % interval of it, Wh/km: lower and upper end */
            interval95: number[];
        };
        Run: {
            /** @description Number of the run */
            number: number;
            /**
             * @description Only “approved” counts
             * @enum {string}
             */
            status: "approved" | "retracted" | "superseded";
            world: components["schemas"]["World"];
            /**
             * Format: date
             * @description Day of the drive, at the loop
             */
            day: string;
            tester: {
                /** @description Part of the address of its tester */
                slug: string;
                /** @description Name of its tester */
                name: string;
            };
            /** @description Maker, name and variant of the car */
            model: string;
            setup: {
                /** @description Part of the address of its setup */
                slug: string;
                /** @description Name of its setup */
                name: string;
            };
            loop: {
                /** @description Part of the address of its loop */
                slug: string;
                /** @description Name of its loop */
                name: string;
            };
            /** @description Label of its cruise class */
            cruiseClass: string;
            measuredWhPerKm: number | null;
            /** @description Revision that counts */
            revision: number;
            /** @description Start */
            startedAt: string;
            readings: components["schemas"]["Reading"][];
            conditions: {
                /** @description °C */
                airTemperatureC: number;
                /** @description Pa, of the kind stated */
                pressurePa: number | null;
                pressureKind: string | null;
                /** @description 0 to 1 */
                relativeHumidity: number | null;
                /** @description Mean, m/s */
                windSpeedMps: number | null;
                /** @description From true north, degrees */
                windFromDeg: number | null;
                /** @description m/s */
                windGustMps: number | null;
                /** @description Rain or snow */
                precipitation: string;
                /** @description Surface */
                road: string;
                /** @description How dense */
                traffic: string;
            } | null;
            result: {
                /** @description Version of the method */
                methodVersion: string;
                /** @description As measured, Wh/km */
                measuredWhPerKm: number;
                normalisedWhPerKm: number | null;
                uWhPerKm: number | null;
            } | null;
            /** @description Its input to the method, for computing it again */
            caseUrl: string;
            /** @description Version of the protocol that judged it */
            protocolVersion: string;
            findings: components["schemas"]["Finding"][];
        };
        Reading: {
            /** @description What was read */
            quantity: string;
            /** @description When: at the start, at the turnaround, at the end */
            moment: string;
            /** @description By what */
            instrument: string;
            /** @description As typed */
            enteredText: string;
            /** @description Unit as typed */
            enteredUnit: string;
            /** @description In `unit` */
            value: number;
            /** @description Least value that would be shown so */
            low: number;
            /** @description Greatest value that would be shown so */
            high: number;
            /** @description Unit of value, low and high */
            unit: string;
        };
        Finding: {
            /** @description Rule of the protocol */
            ruleId: string;
            /** @description Its title */
            title: string;
            /** @description pass, caution, fail or not checked */
            outcome: string;
            /** @description What was found */
            sentence: string;
        };
        ListedLoop: {
            /** @description Part of the address of the loop */
            slug: string;
            /** @description Name */
            name: string;
            /** @description Where, roughly */
            region: string;
            /** @description Where it turns */
            turnaround: string;
            /** @description Length out and back, m */
            lengthM: number;
            /** @description Standard uncertainty of the length, m */
            lengthUncertaintyM: number;
            /** @description Mean altitude, m */
            altitudeM: number;
            /** @description Posted limit, m/s */
            postedLimitMps: number;
            /** @description Share of the way below cruise speed, 0 to 1 */
            offCruiseShare: number;
            /** @description Runs that count */
            runs: number;
            world: components["schemas"]["World"];
        };
        Loop: {
            /** @description Part of the address of the loop */
            slug: string;
            /** @description Name */
            name: string;
            /** @description Where, roughly */
            region: string;
            /** @description Where it turns */
            turnaround: string;
            /** @description Length out and back, m */
            lengthM: number;
            /** @description Standard uncertainty of the length, m */
            lengthUncertaintyM: number;
            /** @description Mean altitude, m */
            altitudeM: number;
            /** @description Posted limit, m/s */
            postedLimitMps: number;
            /** @description Share of the way below cruise speed, 0 to 1 */
            offCruiseShare: number;
            world: components["schemas"]["World"];
            /** @description In its tester’s words */
            description: string;
            /** @description How the length is known */
            lengthSource: string;
            /** @description Net climb over the whole loop, m */
            netClimbM: number;
            grossClimbM: number | null;
            /** @description From the end back to the start, m */
            closureDistanceM: number;
            /** @description Height of the end over the start, m */
            closureHeightM: number;
            legs: components["schemas"]["Leg"][];
            bearings: components["schemas"]["Bearing"][];
            classes: {
                /** @description Cruise class */
                label: string;
                /** @description Runs that count */
                runs: number;
            }[];
        };
        Leg: {
            /** @description out or back */
            direction: string;
            /** @description Length, m */
            lengthM: number;
            /** @description Net climb, m */
            netClimbM: number;
            /** @description From true north, degrees */
            mainBearingDeg: number | null;
        };
        Bearing: {
            /** @description From true north, degrees */
            bearingDeg: number;
            /** @description Share of the road that goes so, 0 to 1 */
            share: number;
        };
        Studies: {
            world: components["schemas"]["World"];
            /** @enum {string} */
            state: "draft" | "running" | "complete" | "abandoned";
            items: components["schemas"]["ListedStudy"][];
            next: string | null;
            previous: string | null;
        };
        ListedStudy: {
            /** @description Part of the address of the study */
            slug: string;
            /** @description As asked */
            question: string;
            /** @enum {string} */
            state: "draft" | "running" | "complete" | "abandoned";
            /** @description Model */
            model: string;
            /** @description Label of the class */
            cruiseClass: string;
            by: {
                /** @description Part of the address of whoever runs it */
                slug: string;
                /** @description Name of whoever runs it */
                name: string;
            };
            /** @description When it came to its state */
            at: string;
            /** @description Runs so far */
            runs: number;
            plannedRuns: number | null;
        };
        Study: {
            /** @description Part of the address of the study */
            slug: string;
            /** @description As asked */
            question: string;
            /** @enum {string} */
            state: "draft" | "running" | "complete" | "abandoned";
            world: components["schemas"]["World"];
            /** @description Part of the address of the model */
            model: string;
            /** @description Part of the address of the loop */
            loop: string;
            /** @description Label of the class */
            cruiseClass: string;
            setups: {
                /** @description Part of the address of a setup; the first is the baseline */
                slug: string;
                /** @description Name of a setup; the first is the baseline */
                name: string;
            }[];
            /** @description The setups of each day in the order in which they are to be driven */
            plannedDays: string[][] | null;
            runs: components["schemas"]["StudyRun"][];
            which: string | null;
            contrasts: components["schemas"]["StudyContrast"][];
        };
        StudyRun: {
            /** @description Number of the run */
            number: number;
            day: string;
            /** @description Part of the address of its setup */
            setup: string;
            /** @description Part of the address of its tester */
            tester: string;
            /** @description counts, approved, waiting or does not count */
            standing: string;
            /** @description Normalised, Wh/km; null where it does not count */
            whPerKm: number | null;
        };
        StudyContrast: {
            /** @description Part of the address of the setup, against the baseline */
            setup: string;
            /** @description Sessions with both */
            sessions: number;
            /** @description Runs of both */
            runs: number;
            shown: components["schemas"]["Bound"] | null;
            running: components["schemas"]["Bound"] | null;
            planned: components["schemas"]["Bound"] | null;
        };
        Bound: {
            /** @description Difference, % of the baseline’s */
            percent: number;
            interval: number[] | null;
        };
        Protocol: {
            /** @description Version */
            label: string;
            /** @description active or retired */
            status: string;
            /** @description What it changed */
            summary: string;
            adoptedAt: string | null;
            retiredAt: string | null;
            rules: components["schemas"]["Rule"][];
            further: {
                /** @description Parameter */
                path: string;
                /** @description Name */
                label: string;
                /** @description Value */
                value: string;
            }[];
            versions: {
                /** @description Version */
                label: string;
                /** @description active or retired */
                status: string;
            }[];
        };
        Rule: {
            /** @description Rule */
            id: string;
            /** @description Group */
            group: string;
            /** @description Title */
            title: string;
            /** @description Limits in words */
            limits: string;
            retrospectiveLimits: string | null;
            /** @description Why it is a rule */
            why: string;
        };
        Method: {
            /** @description In effect in the record */
            methodVersion: string;
            /** @description Version of the table of priors */
            priorsVersion: string;
            steps: string[];
            reference: {
                /** @description kg/m³ */
                airDensityKgM3: number;
                /** @description °C */
                airTemperatureC: number;
                /** @description W */
                auxiliaryPowerW: number;
            };
            reach: {
                /** @description °C */
                coldestC: number;
                /** @description °C */
                hottestC: number;
                /** @description m/s */
                windAtCarHeightMps: number;
                /** @description m/s */
                cruiseFromClassMps: number;
            };
            priors: components["schemas"]["Prior"][];
        };
        Prior: {
            /** @description What is assumed */
            label: string;
            /** @description Its unit */
            unit: string;
            /** @description In that unit */
            value: number;
            /** @description Standard uncertainty, absolute */
            u: number;
            /** @description Standard uncertainty as a share of the value used */
            relativeU: number;
            /** @description Source */
            source: string;
        };
    };
    responses: never;
    parameters: never;
    requestBodies: never;
    headers: never;
    pathItems: never;
}
export type $defs = Record<string, never>;
export interface operations {
    getRankings: {
        parameters: {
            query?: {
                class?: string;
                world?: string;
                model?: string;
                body?: string;
                tyres?: string;
                level?: string;
                from?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The setups of a class, the lowest consumption first */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Rankings"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    compareSetups: {
        parameters: {
            query: {
                /** @description Address parts of two to 24 setups, between commas; the first is the baseline */
                setups: string;
                class?: string;
                world?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Setups of one class against the first of them */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Comparison"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listSetups: {
        parameters: {
            query: {
                /** @description Address part of the model */
                model: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The setups of a model */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: {
                            /** @description Part of the address of the setup */
                            slug: string;
                            /** @description Title */
                            title: string;
                            levels: components["schemas"]["Level"][];
                            /** @description Runs that count, in all classes */
                            runs: number;
                            /** @description As delivered */
                            isBaseline: boolean;
                        }[];
                    };
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getSetup: {
        parameters: {
            query?: {
                class?: string;
            };
            header?: never;
            path: {
                /** @description Address part of the setup */
                slug: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description A setup: its levels and its estimate in every class */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Setup"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listModels: {
        parameters: {
            query?: {
                find?: string;
                from?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Models by maker and name */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["ListedModel"][];
                        /** @description Of all pages */
                        total: number;
                        next: string | null;
                        previous: string | null;
                    };
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getModel: {
        parameters: {
            query?: {
                class?: string;
            };
            header?: never;
            path: {
                /** @description Address part of the model */
                slug: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description A model: its data sheet, and its setups in one class */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Model"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listFactors: {
        parameters: {
            query?: {
                class?: string;
                world?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description What each factor does in one class, as far as it can be said */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Factors"];
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getFactor: {
        parameters: {
            query?: {
                class?: string;
                world?: string;
            };
            header?: never;
            path: {
                /** @description Key of the factor */
                key: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description One factor in one class, model by model */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["FactorOfClass"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listRuns: {
        parameters: {
            query?: {
                class?: string;
                model?: string;
                loop?: string;
                tester?: string;
                state?: string;
                from?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Published runs, the latest first */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["ListedRun"][];
                        /** @description Of all pages */
                        total: number;
                        next: string | null;
                        previous: string | null;
                    };
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getRun: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Number of the run */
                number: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description One published run: readings, conditions, result, findings */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Run"];
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listLoops: {
        parameters: {
            query?: {
                find?: string;
                from?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Loops by name */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["ListedLoop"][];
                        /** @description Of all pages */
                        total: number;
                        next: string | null;
                        previous: string | null;
                    };
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getLoop: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Address part of the loop */
                slug: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description A loop: its route, heights and directions */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Loop"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    listStudies: {
        parameters: {
            query?: {
                state?: string;
                world?: string;
                from?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Studies in one state, the newest first */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Studies"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getStudy: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Address part of the study */
                slug: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description A study: its plan, its runs, and where it stands */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Study"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getProtocol: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The protocol in force, and the versions there are */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Protocol"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getProtocolVersion: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Label of the version */
                version: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description A published version of the protocol */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Protocol"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
    getMethod: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description The method in force: reference conditions, how far it reaches, what it assumes */
            200: {
                headers: {
                    /** @description Of this answer; send it back in If-None-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Method"];
                    "text/csv": string;
                };
            };
            /** @description Nothing changed since the answer whose tag was sent */
            304: {
                headers: {
                    [name: string]: unknown;
                };
                content?: never;
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Not to be had in the form that Accept asks for */
            406: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description The query cannot be read */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
            /** @description Too many reads; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["Problem"];
                };
            };
        };
    };
}
