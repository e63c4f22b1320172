import { asKnown } from '../../history/index.ts'
import type { Context } from '../../platform/context.ts'
import type { ConfirmedComeback } from '../../recurring-failures/index.ts'
import { confirmedFailureRows } from '../queries/confirmed-failures.ts'
import { readableAt } from './suspicions.ts'

/** Failures with which work came back, each with the decision that says so, as known on a day. */
export function confirmedFailures(ctx: Context, asOf: string | undefined): ConfirmedComeback[] {
  return confirmedFailureRows(ctx.read, asKnown(ctx, asOf)).map(({ earlier_id, later_id, root_cause, ...failure }) => ({
    ...failure,
    root_cause: root_cause === null ? [] : (JSON.parse(root_cause) as string[]),
    href: earlier_id === null || later_id === null ? null : readableAt(ctx, earlier_id, later_id),
  }))
}
