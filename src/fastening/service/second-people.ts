import { peopleWithRole } from '../../accounts/index.ts'
import type { Context } from '../../platform/context.ts'
import { mayLookAgain, needsSecondPerson } from '../rules.ts'
import type { LoadedJoint } from './joints.ts'

/**
 * Who may still sign a joint as second person: everybody who logs in as technician or owner, but for whoever tightened some
 * of it or signed it first. Null where no second person is needed.
 */
export function secondPeople(
  ctx: Context,
  { row, sign_offs, records }: LoadedJoint,
): { id: string; name: string }[] | null {
  if (!needsSecondPerson(row.revision.severity)) return null
  return peopleWithRole(ctx, ['technician', 'owner']).filter(({ id }) => mayLookAgain(id, sign_offs, records))
}
