'use client';

import { useState } from 'react';
import { CheckField } from '@/app/ui/forms/CheckField';
import type { FieldError } from '@/app/ui/forms/Field';
import { FileField } from '@/app/ui/forms/FileField';
import { errorOf } from '@/app/ui/forms/fieldErrors';
import { PHOTO_FIELDS } from '@/lib/run/fields/table';
import { typedOffset } from '@/lib/run/utcOffset';
import { PHOTO_LIMIT_TEXT, PHOTO_TYPES } from '../photoLimit';
import type { FormParts } from './formParts';
import { MarkPhoto } from './MarkPhoto';
import { markButtonId, PhotoList } from './PhotoList';
import { hintOf } from './ReadingFields';
import { type PhotoAnswer, sendPhoto, takePhotoOff } from './sendPhoto';

/** Photos by kind. With scripts each is sent as soon as it is chosen; without, with the button below. */
export function EvidenceFields({ parts }: { parts: FormParts }) {
  const { view, issues, photos, onPhotos } = parts;
  const [openId, setOpenId] = useState<string>();
  const [errors, setErrors] = useState<Readonly<Record<string, FieldError | undefined>>>({});
  const [news, setNews] = useState('');

  const settle = (kind: string, answer: PhotoAnswer, done: string) => {
    if (answer.ok) onPhotos?.(answer.photos);
    setErrors((before) => ({ ...before, [kind]: answer.ok ? undefined : answer.error }));
    setNews(answer.ok ? done : answer.error.what);
  };

  const add = async (kind: string, files: FileList | null) => {
    const input = document.getElementById(`evidence.${kind}`);
    const consent = document.getElementById('keepCaptureTime');
    const keepCaptureTime = consent instanceof HTMLInputElement && consent.checked;
    for (const file of Array.from(files ?? [])) {
      setNews(`Sending ${file.name} …`);
      settle(kind, await sendPhoto(view.runId, { kind, file, keepCaptureTime }), 'Photo added.');
    }
    // Sent files must not go along with the form again.
    if (input instanceof HTMLInputElement) input.value = '';
  };

  const close = (photoId: string) => {
    setOpenId(undefined);
    document.getElementById(markButtonId(photoId))?.focus();
  };

  return (
    <>
      <CheckField
        name="keepCaptureTime"
        label="Keep the time at which the photos were taken"
        hint="It shows reviewers that the photos are of this run. Place, device and everything else in a photo are always removed."
      />
      <div className="grid items-start gap-x-10 gap-y-8 sm:grid-cols-2">
        {PHOTO_FIELDS.map((kind) => (
          <div key={kind.value}>
            <FileField
              name={`evidence.${kind.value}`}
              label={kind.label}
              hint={hintOf(
                `evidence.${kind.value}`,
                `${kind.hint} JPEG, PNG, WebP or AVIF, up to ${PHOTO_LIMIT_TEXT}.`,
                parts,
              )}
              accept={PHOTO_TYPES}
              multiple
              onFiles={(files) => void add(kind.value, files)}
              error={errors[kind.value] ?? errorOf(issues, `evidence.${kind.value}`)}
            />
            <PhotoList
              label={kind.label}
              utcOffsetMin={typedOffset(view.form.utcOffsetMin)}
              photos={photos.filter((photo) => photo.kind === kind.value)}
              onRemove={async (photo) =>
                settle(kind.value, await takePhotoOff(view.runId, photo.id), 'Photo removed.')
              }
              openId={openId}
              onMark={(photo) => (photo.id === openId ? close(photo.id) : setOpenId(photo.id))}
            />
            {photos
              .filter((photo) => photo.kind === kind.value && photo.id === openId)
              .map((photo) => (
                <MarkPhoto
                  key={photo.id}
                  runId={view.runId}
                  photo={photo}
                  values={parts.values}
                  onPhotos={(kept) => onPhotos?.(kept)}
                  onClose={() => close(photo.id)}
                />
              ))}
          </div>
        ))}
      </div>
      <p role="status" className="min-h-6 text-sm text-ink-soft">
        {news}
      </p>
      <noscript>
        <button
          type="submit"
          formAction={`/api/runs/${view.runId}/evidence`}
          formMethod="post"
          formEncType="multipart/form-data"
          className="min-h-11 rounded-sm border border-rule-strong bg-sheet px-4 text-sm font-semibold"
        >
          Save and add the chosen photos
        </button>
      </noscript>
    </>
  );
}
