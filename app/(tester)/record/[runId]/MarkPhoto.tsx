import { type KeyboardEvent, useEffect, useId, useRef, useState } from 'react';
import { Button } from '@/app/ui/Button';
import { controlClass } from '@/app/ui/forms/Field';
import { PhotoFrame } from '@/app/ui/PhotoFrame';
import { fieldsOnPhoto } from '@/lib/capture/blindEntry';
import type { FormPhoto } from '@/lib/registry/runs/recordForm';
import { photoLabel, type RunQuantity } from '@/lib/run/fields/table';
import { type Box, boxBetween, centredOn, moved, resized } from '@/lib/run/photoMarks';
import type { RunForm } from '@/lib/run/runForm';
import { useMarks } from './useMarks';

interface MarkPhotoProps {
  runId: string;
  photo: FormPhoto;
  values: RunForm;
  onPhotos: (photos: readonly FormPhoto[]) => void;
  onClose: () => void;
}

const FIRST_BOX: Box = { left: 0.35, top: 0.42, width: 0.3, height: 0.16 };
const STEP = 0.01;
/** A pointer that moved less than this was a press: it puts the frame there in the size that it has. */
const DRAG = 0.015;

const ARROWS: ReadonlyMap<string, readonly [number, number]> = new Map([
  ['ArrowLeft', [-1, 0]],
  ['ArrowRight', [1, 0]],
  ['ArrowUp', [0, -1]],
  ['ArrowDown', [0, 1]],
]);

/** Where on one photo its readings stand: a frame each, by pointer or by keyboard, kept as soon as it is drawn. */
export function MarkPhoto({ runId, photo, values, onPhotos, onClose }: MarkPhotoProps) {
  const id = useId();
  const fields = fieldsOnPhoto(photo.kind);
  const { marks, news, keep, keepSoon } = useMarks(runId, photo, onPhotos);
  const [field, setField] = useState<RunQuantity>(() => firstOpen(photo, fields, values));
  const choice = useRef<HTMLSelectElement>(null);
  const from = useRef<{ x: number; y: number }>(undefined);
  const [drawn, setDrawn] = useState<Box>();
  useEffect(() => choice.current?.focus(), []);

  const mark = marks.find((one) => one.field === field);
  const others = marks.filter((one) => one.field !== field);
  const box = drawn ?? mark;
  const put = (next: Box, later = false) => {
    const all = [...others, { ...next, field }];
    return later ? keepSoon(all) : keep(all);
  };
  const change = (by: (box: Box) => Box) => put(by(mark ?? FIRST_BOX), true);
  const onArrows = (by: typeof moved) => (event: KeyboardEvent) => {
    const way = ARROWS.get(event.key);
    if (way === undefined) return;
    event.preventDefault();
    const step = event.shiftKey ? 5 * STEP : STEP;
    change((now) => by(now, { x: way[0] * step, y: way[1] * step }));
  };

  return (
    <section aria-labelledby={`${id}-title`} className="mt-4 border border-rule-strong bg-sheet p-3">
      <h3 id={`${id}-title`} className="font-semibold">
        Where the numbers are: {photoLabel(photo.kind)}
      </h3>
      <label className="mt-2 block text-sm" htmlFor={`${id}-field`}>
        Reading
      </label>
      <select
        ref={choice}
        id={`${id}-field`}
        className={`${controlClass('normal')} mt-1 w-full`}
        value={field}
        onChange={(event) => {
          const chosen = fields.find(({ name }) => name === event.target.value);
          if (chosen) setField(chosen.name);
        }}
      >
        {fields.map(({ name, label }) => (
          <option key={name} value={name}>
            {label}
            {values[name] ? `: ${values[name]}` : ''}
            {marks.some((one) => one.field === name) ? ' (marked)' : ''}
          </option>
        ))}
      </select>
      <p id={`${id}-how`} className="mt-2 text-sm text-ink-soft">
        Draw a frame round the number, or press where it is. By keyboard: the arrow keys on the first two
        buttons, with Shift in larger steps.
      </p>
      <PhotoFrame
        photo={photo}
        alt={`Photo of ${photoLabel(photo.kind)}`}
        marks={others}
        current={box && { ...box, field }}
        className="mt-2 cursor-crosshair touch-none select-none"
        onStart={(point) => {
          from.current = point;
        }}
        onMove={(point) => {
          const start = from.current;
          if (start && isDrag(start, point)) setDrawn(boxBetween(start, point));
        }}
        onEnd={(point) => {
          const start = from.current;
          from.current = undefined;
          setDrawn(undefined);
          if (start === undefined || point === undefined) return;
          put(isDrag(start, point) ? boxBetween(start, point) : centredOn(mark ?? FIRST_BOX, point));
        }}
      />
      <div className="mt-2 flex flex-wrap gap-2">
        <Button
          aria-describedby={`${id}-how`}
          onKeyDown={onArrows(moved)}
          onClick={() => change((now) => now)}
        >
          Move the frame
        </Button>
        <Button
          aria-describedby={`${id}-how`}
          onKeyDown={onArrows(resized)}
          onClick={() => change((now) => now)}
        >
          Size the frame
        </Button>
        {SIZES.map(([words, x, y]) => (
          <Button key={words} onClick={() => change((now) => resized(now, { x, y }))}>
            {words}
          </Button>
        ))}
        <Button
          aria-disabled={mark === undefined || undefined}
          onClick={() => (mark ? keep(others) : undefined)}
        >
          Take the frame away
        </Button>
        <Button variant="primary" onClick={onClose}>
          Done
        </Button>
      </div>
      <p role="status" className="num mt-1 min-h-6 text-sm text-ink-soft">
        {news}
        {box ? ` ${placeWords(box)}` : ''}
      </p>
    </section>
  );
}

const SIZES: readonly (readonly [string, number, number])[] = [
  ['Wider', 0.04, 0],
  ['Narrower', -0.04, 0],
  ['Taller', 0, 0.04],
  ['Flatter', 0, -0.04],
];

function isDrag(start: { x: number; y: number }, { x, y }: { x: number; y: number }): boolean {
  return Math.max(Math.abs(x - start.x), Math.abs(y - start.y)) > DRAG;
}

/** The first reading that was typed and is not marked yet; else the first of all. */
function firstOpen(photo: FormPhoto, fields: ReturnType<typeof fieldsOnPhoto>, values: RunForm): RunQuantity {
  const open = fields.filter(({ name }) => !photo.marks.some((mark) => mark.field === name));
  const first = open.find(({ name }) => (values[name] ?? '') !== '') ?? open[0] ?? fields[0];
  if (first === undefined) throw new Error('A photo shows readings.');
  return first.name;
}

function placeWords({ left, top, width, height }: Box): string {
  const whole = (share: number) => Math.round(100 * share);
  return `Frame ${whole(left)} % from the left and ${whole(top)} % from the top, ${whole(width)} % wide and ${whole(height)} % high.`;
}
