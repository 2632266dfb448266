import { useEffect, useState } from 'react';
import { PHOTO_TYPES } from '@/app/(tester)/record/photoLimit';
import { Button } from '@/app/ui/Button';
import { FileField } from '@/app/ui/forms/FileField';
import type { CardStepFields } from '@/lib/run/fields/cardSteps';
import type { FieldPhoto } from './fieldRun';
import { fieldPhotoOf } from './shrinkPhoto';
import type { Field, KeptRun } from './useField';

interface FieldPhotosProps {
  step: CardStepFields;
  kept: KeptRun;
  field: Field;
}

/** Photos of this step: taken or chosen, made smaller, kept on the phone, sent later. */
export function FieldPhotos({ step, kept, field }: FieldPhotosProps) {
  const [news, setNews] = useState('');
  const { run } = kept;
  const add = async (kind: string, files: FileList | null) => {
    const chosen = Array.from(files ?? []);
    const input = document.getElementById(`photo.${kind}`);
    if (input instanceof HTMLInputElement) input.value = '';
    try {
      for (const file of chosen) {
        setNews('Keeping the photo…');
        await field.addPhoto(await fieldPhotoOf(file, run, kind, Date.now()));
      }
      setNews('Photo kept on this phone.');
    } catch {
      // The database refuses a write for which there is no room (QuotaExceededError).
      setNews(
        'The photo could not be kept: this phone’s storage is full. Free some space and take it again.',
      );
    }
  };
  return (
    <>
      {step.photos.map(({ value: kind, label, hint }) => (
        <div key={kind}>
          <FileField
            name={`photo.${kind}`}
            label={`Photo: ${label}`}
            hint={hint}
            accept={PHOTO_TYPES}
            capture="environment"
            size="field"
            onFiles={(files) => void add(kind, files)}
          />
          <ul className="mt-3 flex flex-wrap gap-3" aria-label={`Kept photos: ${label}`}>
            {kept.photos
              .filter((photo) => photo.kind === kind)
              .map((photo, index) => (
                <KeptPhoto
                  key={photo.id}
                  photo={photo}
                  name={`${label}, photo ${index + 1}`}
                  onRemove={() => {
                    void field.removePhoto(photo.id);
                    document.getElementById(`photo.${kind}`)?.focus();
                  }}
                />
              ))}
          </ul>
        </div>
      ))}
      {step.photos.length > 0 ? (
        <p role="status" className="min-h-6 text-sm text-ink-soft">
          {news}
        </p>
      ) : null}
    </>
  );
}

interface KeptPhotoProps {
  photo: FieldPhoto;
  name: string;
  onRemove: () => void;
}

function KeptPhoto({ photo, name, onRemove }: KeptPhotoProps) {
  const address = useObjectAddress(photo);
  return (
    <li className="w-40 border border-rule-strong bg-sheet p-1.5 text-sm">
      {address ? (
        // biome-ignore lint/performance/noImgElement: the picture is on this phone, nothing can be optimised for it
        <img src={address} alt={name} className="h-28 w-full object-contain" />
      ) : null}
      <p>{photo.refusal ?? (photo.sentAtMs === undefined ? 'Kept, not sent yet' : 'Sent')}</p>
      {photo.sentAtMs === undefined ? (
        <Button variant="quiet" className="min-h-12 w-full" aria-label={`Remove ${name}`} onClick={onRemove}>
          Remove
        </Button>
      ) : null}
    </li>
  );
}

/** An address for bytes in memory, given back when the picture is gone. */
function useObjectAddress({ id, bytes, mediaType }: FieldPhoto): string | undefined {
  const [address, setAddress] = useState<string>();
  // biome-ignore lint/correctness/useExhaustiveDependencies: a photo's id is its content
  useEffect(() => {
    const made = URL.createObjectURL(new Blob([bytes], { type: mediaType }));
    setAddress(made);
    return () => URL.revokeObjectURL(made);
  }, [id]);
  return address;
}
