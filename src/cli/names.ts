import { check } from '../platform/check.ts'
import { Name } from '../platform/contract.ts'
import { Refusal } from '../platform/refusal.ts'

/** A name as the pages would take it too: the command line is no way round the contract. */
export function nameOf(text: string): string {
  const name = check(Name, text)
  if (name.ok) return name.value
  throw new Refusal(
    `The name ${JSON.stringify(text)} cannot be used.`,
    name.errors.map(error => error.detail),
  )
}
