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
    "/own/choices": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Your cars with their setups, and loops, with the ids that a draft names them by
         * @description Needs a token with “runs:read”.
         */
        get: operations["getChoices"];
        put?: never;
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/own/runs": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Your own runs in one state, those saved last first
         * @description Needs a token with “runs:read”.
         */
        get: operations["listOwnRuns"];
        put?: never;
        /**
         * Begins a draft
         * @description Needs a token with “drafts:write”.
         */
        post: operations["beginDraft"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/own/runs/{id}/draft": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * A draft as it stands, and what it still wants
         * @description Needs a token with “runs:read”.
         */
        get: operations["getDraft"];
        /**
         * Replaces all fields of a draft
         * @description Needs a token with “drafts:write”.
         */
        put: operations["replaceDraft"];
        post?: never;
        delete?: never;
        options?: never;
        head?: never;
        /**
         * Changes some fields of a draft
         * @description Needs a token with “drafts:write”.
         */
        patch: operations["changeDraft"];
        trace?: never;
    };
    "/own/runs/{id}/recording": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        /**
         * Puts a recording to a draft, in place of the one before
         * @description Needs a token with “files:write”.
         */
        put: operations["putRecording"];
        post?: never;
        /**
         * Takes the recording off a draft
         * @description Needs a token with “files:write”.
         */
        delete: operations["deleteRecording"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/own/runs/{id}/photos": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Puts a photo to a draft; it loses its place and other hidden data
         * @description Needs a token with “files:write”.
         */
        post: operations["addPhoto"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/own/runs/{id}/photos/{photo}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        post?: never;
        /**
         * Takes a photo off a draft
         * @description Needs a token with “files:write”.
         */
        delete: operations["deletePhoto"];
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/own/runs/{id}/submission": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        get?: never;
        put?: never;
        /**
         * Sends a draft in
         * @description Needs a token with “runs:submit”.
         */
        post: operations["submitRun"];
        delete?: never;
        options?: never;
        head?: never;
        patch?: never;
        trace?: never;
    };
    "/own/runs/{id}": {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        /**
         * Where a run of yours stands: files, what the rules found, what the reviewer said
         * @description Needs a token with “runs:read”.
         */
        get: operations["getOwnRun"];
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
        /** @description What the form holds: each field as typed, as text */
        DraftFields: {
            /** @description Car; an id out of /own/choices; has to be there to send it */
            carId?: string;
            /** @description Setup; an id out of /own/choices; has to be there to send it */
            setupId?: string;
            /** @description Loop; an id out of /own/choices; has to be there to send it */
            loopId?: string;
            /** @description Cruise speed class; kmh-80, kmh-90, mph-60, kmh-100, mph-65, kmh-110, mph-70, kmh-120, mph-75, kmh-130; has to be there to send it */
            cruiseClassKey?: string;
            /** @description How the true speed was checked; positioning (Satellite positioning (phone, logger)), calibratedSpeedometer (Speedometer with a calibration on file), notVerified (Not verified); has to be there to send it */
            trueSpeedMethod?: string;
            /** @description True cruise speed held; has to be there to send it */
            trueSpeed?: string;
            /** @description Unit of trueSpeed: km/h, mph */
            trueSpeedUnit?: string;
            /** @description Speed shown by the car */
            indicatedSpeed?: string;
            /** @description Unit of indicatedSpeed: km/h, mph */
            indicatedSpeedUnit?: string;
            /** @description Share of cruise time within ±3 km/h */
            withinBandShare?: string;
            /** @description Unit of withinBandShare: % */
            withinBandShareUnit?: string;
            /** @description Start; date and time at the loop, as 2026-05-14T09:30; has to be there to send it */
            startedAtLocal?: string;
            /** @description Time zone; minutes by which its clocks are ahead of UTC, as 60; has to be there to send it */
            utcOffsetMin?: string;
            /** @description Entered later; yes, or left out */
            isRetrospective?: string;
            /** @description Climate setting during the run; off (Off), mild (On, little to do), cooling (Cooling), heating (Heating); has to be there to send it */
            climate?: string;
            /** @description Charge at start; has to be there to send it */
            chargeStart?: string;
            /** @description Unit of chargeStart: % */
            chargeStartUnit?: string;
            /** @description Range shown at start */
            rangeStart?: string;
            /** @description Unit of rangeStart: km, mi */
            rangeStartUnit?: string;
            /** @description Odometer at start */
            odometerStart?: string;
            /** @description Unit of odometerStart: km, mi */
            odometerStartUnit?: string;
            /** @description Cold tyre pressure, front */
            pressureFront?: string;
            /** @description Unit of pressureFront: bar, kPa, psi */
            pressureFrontUnit?: string;
            /** @description Cold tyre pressure, rear */
            pressureRear?: string;
            /** @description Unit of pressureRear: bar, kPa, psi */
            pressureRearUnit?: string;
            /** @description Placard pressure, front */
            placardFront?: string;
            /** @description Unit of placardFront: bar, kPa, psi */
            placardFrontUnit?: string;
            /** @description Placard pressure, rear */
            placardRear?: string;
            /** @description Unit of placardRear: bar, kPa, psi */
            placardRearUnit?: string;
            /** @description Warm-up driven before the start */
            warmUpDistance?: string;
            /** @description Unit of warmUpDistance: km, mi */
            warmUpDistanceUnit?: string;
            /** @description People and load */
            loadMass?: string;
            /** @description Unit of loadMass: kg, lb */
            loadMassUnit?: string;
            /** @description Auxiliary power, if the car shows it */
            auxiliaryPower?: string;
            /** @description Unit of auxiliaryPower: kW, W */
            auxiliaryPowerUnit?: string;
            /** @description Distance at turnaround */
            outboundDistance?: string;
            /** @description Unit of outboundDistance: km, mi */
            outboundDistanceUnit?: string;
            /** @description Energy at turnaround */
            outboundEnergy?: string;
            /** @description Unit of outboundEnergy: kWh, Wh */
            outboundEnergyUnit?: string;
            /** @description Time at turnaround */
            outboundDuration?: string;
            /** @description Unit of outboundDuration: min, h */
            outboundDurationUnit?: string;
            /** @description Distance; has to be there to send it */
            tripDistance?: string;
            /** @description Unit of tripDistance: km, mi */
            tripDistanceUnit?: string;
            /** @description Energy used */
            tripEnergy?: string;
            /** @description Unit of tripEnergy: kWh, Wh */
            tripEnergyUnit?: string;
            /** @description Average consumption shown */
            tripEfficiency?: string;
            /** @description Unit of tripEfficiency: kWh/100km, Wh/km, km/kWh, mi/kWh, Wh/mi, kWh/100mi */
            tripEfficiencyUnit?: string;
            /** @description Time; has to be there to send it */
            tripDuration?: string;
            /** @description Unit of tripDuration: min, h */
            tripDurationUnit?: string;
            /** @description Average speed shown */
            tripMeanSpeed?: string;
            /** @description Unit of tripMeanSpeed: km/h, mph */
            tripMeanSpeedUnit?: string;
            /** @description Charge at finish; has to be there to send it */
            chargeEnd?: string;
            /** @description Unit of chargeEnd: % */
            chargeEndUnit?: string;
            /** @description Range shown at finish */
            rangeEnd?: string;
            /** @description Unit of rangeEnd: km, mi */
            rangeEndUnit?: string;
            /** @description Odometer at finish */
            odometerEnd?: string;
            /** @description Unit of odometerEnd: km, mi */
            odometerEndUnit?: string;
            /** @description Charger; dc (Fast charger (DC)), ac (Wall box or socket (AC)) */
            chargerKind?: string;
            /** @description Energy delivered by the charger */
            chargerEnergy?: string;
            /** @description Unit of chargerEnergy: kWh, Wh */
            chargerEnergyUnit?: string;
            /** @description Kind of pressure; qnh (Altimeter setting (QNH)), qff (Sea-level pressure (QFF)), station (At the place itself, not reduced), altitudeOnly (Not known: use the loop’s altitude); has to be there to send it */
            pressureKind?: string;
            /** @description Precipitation; none (None), rain (Rain), snow (Snow or sleet); has to be there to send it */
            precipitation?: string;
            /** @description Road; dry (Dry), damp (Damp), wet (Wet), snow (Snow or ice); has to be there to send it */
            road?: string;
            /** @description Traffic; free (Free), moderate (Moderate), dense (Dense); has to be there to send it */
            traffic?: string;
            /** @description Who was in front; nobody (Nobody), car (A car at a safe gap), truck (A truck at a safe gap) */
            inFront?: string;
            /** @description Followed another vehicle closely; none (No), some (Yes, for a part); has to be there to send it */
            closeFollowing?: string;
            /** @description Where the weather comes from; stationReport (Weather station report), ownInstrument (Own instrument at the loop), carDisplay (Car display), forecast (Forecast or app); has to be there to send it */
            conditionsSource?: string;
            /** @description Wind direction known; yes (Yes, given below), no (No) */
            windDirectionKnown?: string;
            /** @description Air temperature; has to be there to send it */
            airTemperature?: string;
            /** @description Unit of airTemperature: degC, degF */
            airTemperatureUnit?: string;
            /** @description Air pressure */
            airPressure?: string;
            /** @description Unit of airPressure: hPa, inHg */
            airPressureUnit?: string;
            /** @description Relative humidity */
            relativeHumidity?: string;
            /** @description Unit of relativeHumidity: % */
            relativeHumidityUnit?: string;
            /** @description Dew point */
            dewPoint?: string;
            /** @description Unit of dewPoint: degC, degF */
            dewPointUnit?: string;
            /** @description Mean wind at 10 m; has to be there to send it */
            windSpeed?: string;
            /** @description Unit of windSpeed: m/s, km/h, mph, kn */
            windSpeedUnit?: string;
            /** @description Gusts */
            windGust?: string;
            /** @description Unit of windGust: m/s, km/h, mph, kn */
            windGustUnit?: string;
            /** @description Wind from */
            windFrom?: string;
            /** @description Unit of windFrom: deg */
            windFromUnit?: string;
            /** @description Distance from the weather station */
            stationDistance?: string;
            /** @description Unit of stationDistance: km, mi */
            stationDistanceUnit?: string;
            /** @description Station report */
            stationReport?: string;
            /** @description Notes */
            notes?: string;
        };
        /** @description The fields to change; null empties one */
        DraftChanges: {
            /** @description Car; an id out of /own/choices; has to be there to send it */
            carId?: string | null;
            /** @description Setup; an id out of /own/choices; has to be there to send it */
            setupId?: string | null;
            /** @description Loop; an id out of /own/choices; has to be there to send it */
            loopId?: string | null;
            /** @description Cruise speed class; kmh-80, kmh-90, mph-60, kmh-100, mph-65, kmh-110, mph-70, kmh-120, mph-75, kmh-130; has to be there to send it */
            cruiseClassKey?: string | null;
            /** @description How the true speed was checked; positioning (Satellite positioning (phone, logger)), calibratedSpeedometer (Speedometer with a calibration on file), notVerified (Not verified); has to be there to send it */
            trueSpeedMethod?: string | null;
            /** @description True cruise speed held; has to be there to send it */
            trueSpeed?: string | null;
            /** @description Unit of trueSpeed: km/h, mph */
            trueSpeedUnit?: string | null;
            /** @description Speed shown by the car */
            indicatedSpeed?: string | null;
            /** @description Unit of indicatedSpeed: km/h, mph */
            indicatedSpeedUnit?: string | null;
            /** @description Share of cruise time within ±3 km/h */
            withinBandShare?: string | null;
            /** @description Unit of withinBandShare: % */
            withinBandShareUnit?: string | null;
            /** @description Start; date and time at the loop, as 2026-05-14T09:30; has to be there to send it */
            startedAtLocal?: string | null;
            /** @description Time zone; minutes by which its clocks are ahead of UTC, as 60; has to be there to send it */
            utcOffsetMin?: string | null;
            /** @description Entered later; yes, or left out */
            isRetrospective?: string | null;
            /** @description Climate setting during the run; off (Off), mild (On, little to do), cooling (Cooling), heating (Heating); has to be there to send it */
            climate?: string | null;
            /** @description Charge at start; has to be there to send it */
            chargeStart?: string | null;
            /** @description Unit of chargeStart: % */
            chargeStartUnit?: string | null;
            /** @description Range shown at start */
            rangeStart?: string | null;
            /** @description Unit of rangeStart: km, mi */
            rangeStartUnit?: string | null;
            /** @description Odometer at start */
            odometerStart?: string | null;
            /** @description Unit of odometerStart: km, mi */
            odometerStartUnit?: string | null;
            /** @description Cold tyre pressure, front */
            pressureFront?: string | null;
            /** @description Unit of pressureFront: bar, kPa, psi */
            pressureFrontUnit?: string | null;
            /** @description Cold tyre pressure, rear */
            pressureRear?: string | null;
            /** @description Unit of pressureRear: bar, kPa, psi */
            pressureRearUnit?: string | null;
            /** @description Placard pressure, front */
            placardFront?: string | null;
            /** @description Unit of placardFront: bar, kPa, psi */
            placardFrontUnit?: string | null;
            /** @description Placard pressure, rear */
            placardRear?: string | null;
            /** @description Unit of placardRear: bar, kPa, psi */
            placardRearUnit?: string | null;
            /** @description Warm-up driven before the start */
            warmUpDistance?: string | null;
            /** @description Unit of warmUpDistance: km, mi */
            warmUpDistanceUnit?: string | null;
            /** @description People and load */
            loadMass?: string | null;
            /** @description Unit of loadMass: kg, lb */
            loadMassUnit?: string | null;
            /** @description Auxiliary power, if the car shows it */
            auxiliaryPower?: string | null;
            /** @description Unit of auxiliaryPower: kW, W */
            auxiliaryPowerUnit?: string | null;
            /** @description Distance at turnaround */
            outboundDistance?: string | null;
            /** @description Unit of outboundDistance: km, mi */
            outboundDistanceUnit?: string | null;
            /** @description Energy at turnaround */
            outboundEnergy?: string | null;
            /** @description Unit of outboundEnergy: kWh, Wh */
            outboundEnergyUnit?: string | null;
            /** @description Time at turnaround */
            outboundDuration?: string | null;
            /** @description Unit of outboundDuration: min, h */
            outboundDurationUnit?: string | null;
            /** @description Distance; has to be there to send it */
            tripDistance?: string | null;
            /** @description Unit of tripDistance: km, mi */
            tripDistanceUnit?: string | null;
            /** @description Energy used */
            tripEnergy?: string | null;
            /** @description Unit of tripEnergy: kWh, Wh */
            tripEnergyUnit?: string | null;
            /** @description Average consumption shown */
            tripEfficiency?: string | null;
            /** @description Unit of tripEfficiency: kWh/100km, Wh/km, km/kWh, mi/kWh, Wh/mi, kWh/100mi */
            tripEfficiencyUnit?: string | null;
            /** @description Time; has to be there to send it */
            tripDuration?: string | null;
            /** @description Unit of tripDuration: min, h */
            tripDurationUnit?: string | null;
            /** @description Average speed shown */
            tripMeanSpeed?: string | null;
            /** @description Unit of tripMeanSpeed: km/h, mph */
            tripMeanSpeedUnit?: string | null;
            /** @description Charge at finish; has to be there to send it */
            chargeEnd?: string | null;
            /** @description Unit of chargeEnd: % */
            chargeEndUnit?: string | null;
            /** @description Range shown at finish */
            rangeEnd?: string | null;
            /** @description Unit of rangeEnd: km, mi */
            rangeEndUnit?: string | null;
            /** @description Odometer at finish */
            odometerEnd?: string | null;
            /** @description Unit of odometerEnd: km, mi */
            odometerEndUnit?: string | null;
            /** @description Charger; dc (Fast charger (DC)), ac (Wall box or socket (AC)) */
            chargerKind?: string | null;
            /** @description Energy delivered by the charger */
            chargerEnergy?: string | null;
            /** @description Unit of chargerEnergy: kWh, Wh */
            chargerEnergyUnit?: string | null;
            /** @description Kind of pressure; qnh (Altimeter setting (QNH)), qff (Sea-level pressure (QFF)), station (At the place itself, not reduced), altitudeOnly (Not known: use the loop’s altitude); has to be there to send it */
            pressureKind?: string | null;
            /** @description Precipitation; none (None), rain (Rain), snow (Snow or sleet); has to be there to send it */
            precipitation?: string | null;
            /** @description Road; dry (Dry), damp (Damp), wet (Wet), snow (Snow or ice); has to be there to send it */
            road?: string | null;
            /** @description Traffic; free (Free), moderate (Moderate), dense (Dense); has to be there to send it */
            traffic?: string | null;
            /** @description Who was in front; nobody (Nobody), car (A car at a safe gap), truck (A truck at a safe gap) */
            inFront?: string | null;
            /** @description Followed another vehicle closely; none (No), some (Yes, for a part); has to be there to send it */
            closeFollowing?: string | null;
            /** @description Where the weather comes from; stationReport (Weather station report), ownInstrument (Own instrument at the loop), carDisplay (Car display), forecast (Forecast or app); has to be there to send it */
            conditionsSource?: string | null;
            /** @description Wind direction known; yes (Yes, given below), no (No) */
            windDirectionKnown?: string | null;
            /** @description Air temperature; has to be there to send it */
            airTemperature?: string | null;
            /** @description Unit of airTemperature: degC, degF */
            airTemperatureUnit?: string | null;
            /** @description Air pressure */
            airPressure?: string | null;
            /** @description Unit of airPressure: hPa, inHg */
            airPressureUnit?: string | null;
            /** @description Relative humidity */
            relativeHumidity?: string | null;
            /** @description Unit of relativeHumidity: % */
            relativeHumidityUnit?: string | null;
            /** @description Dew point */
            dewPoint?: string | null;
            /** @description Unit of dewPoint: degC, degF */
            dewPointUnit?: string | null;
            /** @description Mean wind at 10 m; has to be there to send it */
            windSpeed?: string | null;
            /** @description Unit of windSpeed: m/s, km/h, mph, kn */
            windSpeedUnit?: string | null;
            /** @description Gusts */
            windGust?: string | null;
            /** @description Unit of windGust: m/s, km/h, mph, kn */
            windGustUnit?: string | null;
            /** @description Wind from */
            windFrom?: string | null;
            /** @description Unit of windFrom: deg */
            windFromUnit?: string | null;
            /** @description Distance from the weather station */
            stationDistance?: string | null;
            /** @description Unit of stationDistance: km, mi */
            stationDistanceUnit?: string | null;
            /** @description Station report */
            stationReport?: string | null;
            /** @description Notes */
            notes?: string | null;
        };
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
            /** @description Day of the drive, at the loop; its month alone (2026-11) where the tester publishes no more */
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
            /** @description Day of the drive, at the loop; its month alone (2026-11) where the tester publishes no more */
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
            /** @description Start; null where its tester publishes no more than the month */
            startedAt: string | null;
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
            /** @description Day of the drive, at the loop; its month alone (2026-11) where the tester publishes no more */
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
        OwnProblem: {
            type: string;
            status: number;
            /** @description What is the matter, in a sentence */
            title: string;
            errors: components["schemas"]["Fault"][];
        };
        Fault: {
            /** @description What is wrong, why, and what to do about it */
            detail: string;
            /** @description JSON pointer into the body, as a fragment (RFC 6901, 6) */
            pointer?: string;
            /** @description Part of the query */
            parameter?: string;
            /** @description Header */
            header?: string;
        };
        DraftReference: {
            /**
             * Format: uuid
             * @description Id of the run, for addresses
             */
            id: string;
            /** @description Number of the run, once it is public */
            number: number;
            /** @description Rises with each change of the draft; the ETag in quotes */
            draftVersion: number;
            /** @description What keeps it from being sent; empty where nothing does */
            toDo: components["schemas"]["Fault"][];
        };
        OwnListedRun: {
            /**
             * Format: uuid
             * @description Id of the run
             */
            id: string;
            /** @description Number of the run */
            number: number;
            /**
             * @description Where the run stands
             * @enum {string}
             */
            status: "draft" | "submitted" | "changesAsked" | "approved" | "rejected" | "retracted" | "superseded";
            /** @description Car, setup, loop and class, as far as chosen */
            what: string;
            /** @description Day of the drive, where it is known */
            day: string;
            /** @description When it was saved last */
            savedAt: string;
            /** @description What the reviewer said, where changes are asked or it was rejected */
            note: string;
        };
        Draft: {
            /**
             * Format: uuid
             * @description Id of the run, for addresses
             */
            id: string;
            /** @description Number of the run, once it is public */
            number: number;
            /** @description Rises with each change of the draft; the ETag in quotes */
            draftVersion: number;
            /** @description What keeps it from being sent; empty where nothing does */
            toDo: components["schemas"]["Fault"][];
            /**
             * @description Where the run stands
             * @enum {string}
             */
            status: "draft" | "submitted" | "changesAsked" | "approved" | "rejected" | "retracted" | "superseded";
            /** @description Whether it can be changed and sent */
            isEditable: boolean;
            fields: components["schemas"]["DraftFields"];
        };
        Recording: {
            /** @description As it was called */
            fileName: string;
            /** @description gpx, csv or geojson */
            format: string;
            /** @description Points in the file */
            pointsRead: number;
            /** @description Points of the drive */
            pointsUsed: number;
            /** @description Distance, m */
            distanceM: number;
            /** @description Duration, s */
            durationS: number;
            /** @description What is to be known of the file */
            notes: string[];
            /** @description Fields that it knows and that are empty in the draft, ready to be sent as changes */
            offers: {
                [key: string]: string;
            };
        };
        OwnPhoto: {
            /**
             * Format: uuid
             * @description Id of the photo
             */
            id: string;
            /** @description What it shows */
            kind: string;
            /** @description Width as kept, pixels */
            widthPx: number;
            /** @description Height as kept, pixels */
            heightPx: number;
        };
        OwnFinding: {
            /** @description Rule of the protocol */
            ruleId: string;
            /** @description Its title */
            title: string;
            field: string | null;
            /** @description pass, caution, fail or notChecked */
            outcome: string;
            /** @description What was found */
            sentence: string;
        };
        OwnRun: {
            /**
             * Format: uuid
             * @description Id of the run
             */
            id: string;
            /** @description Number of the run */
            number: number;
            /**
             * @description Where the run stands
             * @enum {string}
             */
            status: "draft" | "submitted" | "changesAsked" | "approved" | "rejected" | "retracted" | "superseded";
            /** @description Whether its draft can be changed and sent */
            isEditable: boolean;
            /** @description Version of its draft */
            draftVersion: number;
            world: components["schemas"]["World"];
            /** @description When its draft was saved last */
            savedAt: string;
            submittedAt: string | null;
            photos: components["schemas"]["OwnPhoto"][];
            recording: {
                /** @description As it was called */
                fileName: string;
                /** @description gpx, csv or geojson */
                format: string;
                /** @description Points in the file */
                pointsRead: number;
                /** @description Points of the drive */
                pointsUsed: number;
            } | null;
            sent: {
                /** @description Revision that was sent last */
                revision: number;
                /** @description Version of the protocol that it was judged by */
                protocolVersion: string;
                findings: components["schemas"]["OwnFinding"][];
            } | null;
            /** @description Where changes are asked or it was rejected */
            review: {
                /** @description What the reviewer said */
                note: string;
                /** @description When */
                decidedAt: string;
                reasons: {
                    /** @description Rule of the protocol */
                    ruleId: string;
                    /** @description Its title */
                    title: string;
                    field: string | null;
                    /** @description Why */
                    text: string;
                }[];
            } | null;
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
    getChoices: {
        parameters: {
            query?: never;
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Your cars with their setups, and loops, with the ids that a draft names them by */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        cars: {
                            /**
                             * Format: uuid
                             * @description carId of a draft
                             */
                            id: string;
                            /** @description Your name of it */
                            name: string;
                            /** @description Maker, name, year and variant */
                            model: string;
                            setups: {
                                /**
                                 * Format: uuid
                                 * @description setupId of a draft
                                 */
                                id: string;
                                /** @description Its levels */
                                title: string;
                            }[];
                        }[];
                        loops: {
                            /**
                             * Format: uuid
                             * @description loopId of a draft
                             */
                            id: string;
                            /** @description Name */
                            name: string;
                            /** @description Region */
                            region: string;
                            /** @description Classes within its posted limit */
                            cruiseClassKeys: string[];
                        }[];
                        /** @description Whether there are loops beyond these */
                        hasMoreLoops: boolean;
                        cruiseClasses: {
                            /** @description cruiseClassKey of a draft */
                            key: string;
                            /** @description Label */
                            label: string;
                        }[];
                    };
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    listOwnRuns: {
        parameters: {
            query?: {
                state?: "draft" | "submitted" | "changesAsked" | "approved" | "rejected" | "retracted" | "superseded";
                from?: string;
            };
            header?: never;
            path?: never;
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Your own runs in one state, those saved last first */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        items: components["schemas"]["OwnListedRun"][];
                        /** @description Of all pages */
                        total: number;
                        next: string | null;
                        previous: string | null;
                    };
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    beginDraft: {
        parameters: {
            query?: never;
            header?: {
                "Idempotency-Key"?: string;
            };
            path?: never;
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    fields?: components["schemas"]["DraftFields"];
                };
            };
        };
        responses: {
            /** @description Begins a draft */
            201: {
                headers: {
                    /** @description Version of the draft; send it back as If-Match */
                    ETag: string;
                    /** @description Where it is read */
                    Location: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DraftReference"];
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not as things stand, or the same is being done */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not sent in a form that is read here */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    getDraft: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Id of the run */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description A draft as it stands, and what it still wants */
            200: {
                headers: {
                    /** @description Version of the draft; send it back as If-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Draft"];
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    replaceDraft: {
        parameters: {
            query?: never;
            header: {
                /** @description ETag of the draft that you saw, or * for whatever it is by now */
                "If-Match": string;
                "Idempotency-Key"?: string;
            };
            path: {
                /** @description Id of the run */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    fields: components["schemas"]["DraftFields"];
                };
            };
        };
        responses: {
            /** @description Replaces all fields of a draft */
            200: {
                headers: {
                    /** @description Version of the draft; send it back as If-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DraftReference"];
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not as things stand, or the same is being done */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The draft was changed since it was read */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not sent in a form that is read here */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description If-Match is missing */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    changeDraft: {
        parameters: {
            query?: never;
            header: {
                /** @description ETag of the draft that you saw, or * for whatever it is by now */
                "If-Match": string;
                "Idempotency-Key"?: string;
            };
            path: {
                /** @description Id of the run */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    fields: components["schemas"]["DraftChanges"];
                };
                "application/merge-patch+json": {
                    fields: components["schemas"]["DraftChanges"];
                };
            };
        };
        responses: {
            /** @description Changes some fields of a draft */
            200: {
                headers: {
                    /** @description Version of the draft; send it back as If-Match */
                    ETag: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["DraftReference"];
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not as things stand, or the same is being done */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The draft was changed since it was read */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not sent in a form that is read here */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description If-Match is missing */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    putRecording: {
        parameters: {
            query?: {
                name?: string;
                latitude?: string;
                longitude?: string;
                time?: string;
                timeForm?: string;
                elevation?: string;
                elevationUnit?: string;
                speed?: string;
                speedUnit?: string;
                power?: string;
                powerUnit?: string;
            };
            header?: {
                "Idempotency-Key"?: string;
            };
            path: {
                /** @description Id of the run */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/gpx+xml": string;
                "text/csv": string;
                "application/geo+json": string;
                "application/octet-stream": string;
            };
        };
        responses: {
            /** @description Puts a recording to a draft, in place of the one before */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Recording"];
                };
            };
            /** @description Puts a recording to a draft, in place of the one before; it is a new one */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["Recording"];
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not as things stand, or the same is being done */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not sent in a form that is read here */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    deleteRecording: {
        parameters: {
            query?: never;
            header?: {
                "Idempotency-Key"?: string;
            };
            path: {
                /** @description Id of the run */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Takes the recording off a draft */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @description It is on the draft no more */
                        isGone: boolean;
                    };
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not as things stand, or the same is being done */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    addPhoto: {
        parameters: {
            query: {
                /** @description What it shows: startDisplay (Display at start), turnaroundDisplay (Display at turnaround), finishDisplay (Display at finish), charger (Charger), weather (Weather), other (Other) */
                kind: "startDisplay" | "turnaroundDisplay" | "finishDisplay" | "charger" | "weather" | "other";
                /** @description “yes” keeps when it was taken, as a field of its own */
                keepCaptureTime?: "yes" | "no";
            };
            header?: {
                "Idempotency-Key"?: string;
            };
            path: {
                /** @description Id of the run */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "image/jpeg": string;
                "image/png": string;
                "image/webp": string;
                "image/avif": string;
            };
        };
        responses: {
            /** @description Puts a photo to a draft; it loses its place and other hidden data */
            201: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /**
                         * Format: uuid
                         * @description Id of the photo
                         */
                        id: string;
                        /** @description All photos of the draft */
                        photos: components["schemas"]["OwnPhoto"][];
                    };
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not as things stand, or the same is being done */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not sent in a form that is read here */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    deletePhoto: {
        parameters: {
            query?: never;
            header?: {
                "Idempotency-Key"?: string;
            };
            path: {
                /** @description Id of the run */
                id: string;
                /** @description Id of the photo */
                photo: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Takes a photo off a draft */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @description It is on the draft no more */
                        isGone: boolean;
                    };
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not as things stand, or the same is being done */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    submitRun: {
        parameters: {
            query?: never;
            header: {
                /** @description ETag of the draft that you saw, or * for whatever it is by now */
                "If-Match": string;
                "Idempotency-Key"?: string;
            };
            path: {
                /** @description Id of the run */
                id: string;
            };
            cookie?: never;
        };
        requestBody: {
            content: {
                "application/json": {
                    /**
                     * @description What becomes of it where a rule fails: “draft” leaves it a draft and says which (409), “send” sends it all the same
                     * @default draft
                     * @enum {string}
                     */
                    failing?: "draft" | "send";
                };
            };
        };
        responses: {
            /** @description Sends a draft in */
            201: {
                headers: {
                    /** @description Where it is read */
                    Location: string;
                    [name: string]: unknown;
                };
                content: {
                    "application/json": {
                        /** @description Number of the run */
                        number: number;
                        /** @description Revision that waits for a reviewer */
                        revision: number;
                        findings: components["schemas"]["OwnFinding"][];
                    };
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not as things stand, or the same is being done */
            409: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The draft was changed since it was read */
            412: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too large */
            413: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Not sent in a form that is read here */
            415: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description If-Match is missing */
            428: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
    getOwnRun: {
        parameters: {
            query?: never;
            header?: never;
            path: {
                /** @description Id of the run */
                id: string;
            };
            cookie?: never;
        };
        requestBody?: never;
        responses: {
            /** @description Where a run of yours stands: files, what the rules found, what the reviewer said */
            200: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/json": components["schemas"]["OwnRun"];
                };
            };
            /** @description No token, or none that works; WWW-Authenticate says which */
            401: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description The token may not do this, the run is another’s, or the account is suspended */
            403: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description There is no such thing */
            404: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Something of it is wrong: each fault with its place */
            422: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
            /** @description Too much at once; Retry-After says how long to wait */
            429: {
                headers: {
                    [name: string]: unknown;
                };
                content: {
                    "application/problem+json": components["schemas"]["OwnProblem"];
                };
            };
        };
    };
}
