import { TextField } from '@/app/ui/forms/TextField';

/** A search for setups beyond those that a form offers at once; nothing where all of them are offered. */
export function FindSetups({ notOffered, find }: { notOffered: number; find: string }) {
  if (notOffered === 0 && find === '') return null;
  return (
    <TextField
      name="find"
      label="Find other setups"
      hint={
        notOffered > 0
          ? `${notOffered} more are not listed: part of a maker’s, model’s or setup’s name.`
          : 'Part of a maker’s, model’s or setup’s name. What is chosen stays chosen.'
      }
      defaultValue={find}
      maxLength={100}
    />
  );
}
