import { z } from 'zod'
import { askForLook, asksForLook, operationById, operationOfName } from '../../catalogue/index.ts'
import type { Context } from '../../platform/context.ts'
import { Id, Name } from '../../platform/contract.ts'
import { encode } from '../../platform/forms/encode.ts'
import { shapeOf } from '../../platform/forms/shape.ts'
import { pagePost } from '../../platform/http/page-route.ts'
import type { Pages } from '../../platform/http/pages.ts'
import type { Action } from '../../platform/pages/actions.ts'
import { PairsQuery } from './asked.ts'
import { pairHref } from './pairs-view.ts'

const LookAsked = PairsQuery.extend({ operation_id: Id, component: Name, failure_mode: z.string().optional() })

/** The look that would settle a pair: on every job of the operation, from now on. */
export interface PairLook {
  /** What is so already, or null. */
  says: string | null
  actions: Action[]
}

/**
 * Asks for the look where nobody does yet and where it would tell something; to anybody but the owner only what is asked
 * already is said.
 */
export function pairLook(
  ctx: Context,
  { operation, component, failure_mode }: { operation: string; component: string; failure_mode: string | null },
  query: PairsQuery,
  tells = true,
): PairLook {
  const known = operationOfName(ctx, operation)
  if (known === undefined) return { says: null, actions: [] }
  const isOwner = ctx.actor?.role === 'owner'
  if (asksForLook(known, component)) {
    return {
      says: `Every new job “${known.name}” asks for a look at “${component}”.`,
      actions: isOwner
        ? [{ kind: 'link', label: 'What else it asks for', href: `/catalogue/operations/${known.id}/edit` }]
        : [],
    }
  }
  if (!isOwner || !tells) return { says: null, actions: [] }
  const asked = encode({ ...query, operation_id: known.id, component, failure_mode }, shapeOf(LookAsked))
  const hidden = Object.entries({ ...asked, _version: String(known.version) }).map(([name, value]) => ({
    name,
    value: String(value),
  }))
  const label = 'Look at it on every such job'
  const about = `${component}, after ${known.name}`
  return { says: null, actions: [{ kind: 'post', label, about, action: '/recurring/pair/looks', hidden }] }
}

export function pairLookPost(pages: Pages): void {
  pagePost(pages, {
    url: '/recurring/pair/looks',
    roles: [],
    contract: LookAsked,
    submit(ctx, { operation_id, component, failure_mode = null, ...query }, { version }) {
      askForLook(ctx, operation_id, version, component)
      const operation = operationById(ctx, operation_id).name
      return {
        to: pairHref({ operation, component, failure_mode }, query),
        notice: `From now on every job “${operation}” asks for a look at “${component}”. Jobs that are written down keep what they have.`,
      }
    },
  })
}
