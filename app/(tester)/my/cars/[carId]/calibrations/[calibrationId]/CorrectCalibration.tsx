'use client';

import { useActionState } from 'react';
import { FormFrame } from '@/app/ui/forms/FormFrame';
import { UNTOUCHED } from '@/app/ui/forms/formState';
import { ReasonField } from '../../../../../ReasonField';
import { correctCalibrationFromForm, takeBackCalibrationFromForm } from '../../actions';
import { CALIBRATION_ORDER, CalibrationFields } from '../../CalibrationForms';

interface CalibrationRef {
  carId: string;
  calibrationId: string;
}

export function CorrectCalibration({
  carId,
  calibrationId,
  values,
}: CalibrationRef & { values: Readonly<Record<string, string>> }) {
  const [state, dispatch] = useActionState(correctCalibrationFromForm, { ...UNTOUCHED, values });
  return (
    <FormFrame
      label="Correct the calibration"
      state={state}
      dispatch={dispatch}
      submitText="Propose the correction"
      order={[...CALIBRATION_ORDER, 'reason']}
    >
      <input type="hidden" name="carId" value={carId} />
      <input type="hidden" name="calibrationId" value={calibrationId} />
      <CalibrationFields state={state} />
      <ReasonField state={state} />
    </FormFrame>
  );
}

export function TakeBack({ carId, calibrationId }: CalibrationRef) {
  const [state, dispatch] = useActionState(takeBackCalibrationFromForm, UNTOUCHED);
  return (
    <FormFrame
      label="Take the calibration back"
      state={state}
      dispatch={dispatch}
      submitText="Propose to take it back"
      order={['reason']}
    >
      <input type="hidden" name="carId" value={carId} />
      <input type="hidden" name="calibrationId" value={calibrationId} />
      <ReasonField state={state} />
    </FormFrame>
  );
}
