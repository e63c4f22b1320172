import { settingsOf } from '../../accounts/index.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { notFound, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant } from '../../platform/wire.ts'
import type { Loss, LossCause, LossCauseInput } from '../contract.ts'
import {
  insertLossCause,
  type LossCauseRow,
  lossCauses,
  lossCausesOf,
  openedAgainAtOurCost,
} from '../queries/losses.ts'
import { type StayTitle, stayTitles } from '../queries/titles.ts'
import { losses } from '../rules/losses.ts'

/** What was done twice at our cost, newest first; only what was written down before an instant, if that is said. */
export function lossesKnown(ctx: Context, before = Number.MAX_SAFE_INTEGER): Loss[] {
  const causes = lossCauses(ctx.read, before)
  return losses(openedAgainAtOurCost(ctx.read, before), settingsOf(ctx).cost_rate_minor)
    .map(({ at, reason, ...loss }) => ({
      ...{ ...loss, at: toInstant(at), causes: causes.filter(cause => cause.opening_id === loss.id).map(causeToWire) },
      ...(reason !== null && { reason }),
    }))
    .reverse()
}

/** 404 when there is none. */
export function lossById(ctx: Context, id: string): Loss {
  const loss = lossesKnown(ctx).find(each => each.id === id)
  if (loss === undefined) throw notFound('loss', id)
  return loss
}

/** With the stay as people know it. */
export function lossesTold(ctx: Context): { loss: Loss; stay: StayTitle }[] {
  const all = lossesKnown(ctx)
  const stays = stayTitles(
    ctx.read,
    all.map(loss => loss.work_order_id),
  )
  return all.map(loss => ({ loss, stay: stays.get(loss.work_order_id)! }))
}

/**
 * A person's word on why it was done twice (O). 404 for an unknown loss, 409 `loss-decided` when a cause stands and is not the
 * one that is named.
 */
export function recordLossCause(ctx: Context, lossId: string, { supersedes, ...input }: LossCauseInput): LossCause {
  authorise(ctx)
  return write(ctx, tx => {
    lossById(ctx, lossId)
    const standing = lossCausesOf(tx, lossId).at(-1)
    if (standing?.id !== supersedes) {
      throw problem('loss-decided', {
        detail: 'Its cause stands as shown. To change it, write a new one that supersedes it.',
        extra: { standing_cause_id: standing?.id },
      })
    }
    const row = { ...newRecord(ctx), opening_id: lossId, ...input, supersedes_id: supersedes ?? null }
    insertLossCause(tx, row)
    recordEvent(ctx, tx, { action: 'loss.cause-decided', table: 'loss_causes', id: row.id })
    return causeToWire(row)
  })
}

function causeToWire({ created_at, supersedes_id, ...row }: LossCauseRow): LossCause {
  return { ...row, created_at: toInstant(created_at), ...(supersedes_id !== null && { supersedes: supersedes_id }) }
}
