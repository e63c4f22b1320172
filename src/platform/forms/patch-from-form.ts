/**
 * The patch (RFC 7396) by which a form that shows a record puts what came back in the place of what was there: a field that
 * came back empty is taken out.
 *
 * @param contract the form's contract; `input` is what it read.
 */
export function patchFromForm<Input extends object>(
  contract: { shape: Record<keyof Input & string, unknown> },
  input: Input,
): FormPatch<Input> {
  const names = Object.keys(contract.shape) as (keyof Input & string)[]
  return Object.fromEntries(names.map(name => [name, input[name] ?? null])) as FormPatch<Input>
}

/** Every optional field becomes one that may be null. */
export type FormPatch<Input> = {
  [Name in keyof Input]-?: undefined extends Input[Name] ? Exclude<Input[Name], undefined> | null : Input[Name]
}
