import { countWord } from '../../core/words.ts'
import { authorise, type Context } from '../../platform/context.ts'
import { recordEvent } from '../../platform/database/events.ts'
import type { Tx } from '../../platform/database/types.ts'
import { write } from '../../platform/database/unit-of-work.ts'
import { invalid, problem } from '../../platform/problems.ts'
import { newRecord } from '../../platform/records.ts'
import { toInstant, withoutNulls } from '../../platform/wire.ts'
import type {
  CauseSettlement,
  CauseSettlementInput,
  Doubt,
  DoubtSettlement,
  DoubtSettlementInput,
  PartInDoubt,
  PartSettlement,
  PartSettlementInput,
} from '../contract/doubt.ts'
import { insertPartLineSettlement } from '../queries/batches.ts'
import { insertDoubtSettlement } from '../queries/doubts.ts'
import type { Word } from '../rules/settling.ts'
import { type Cause, causesOfDoubt } from './doubt-causes.ts'
import { findDoubts, requireDoubt } from './doubts.ts'
import { type FoundPart, findParts, requirePart } from './parts-in-doubt.ts'
import { refuseUnproved, speaksAs, wantsWrench } from './settling-word.ts'

/**
 * A person settles a doubt about a joint (T): how, and any note. Where safety hangs on it, it was done anew since or its torque
 * checked with a named wrench, and it is settled by two people, each with a word of their own.
 *
 * Problems: not-found, role-not-allowed, invalid-input, doubt-settled, same-person, look-again-too-soon.
 */
export function settleDoubt(ctx: Context, doubtId: string, input: DoubtSettlementInput): DoubtSettlement {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const found = requireDoubt(ctx, doubtId)
    if (found.doubt.settled !== null) throw settledAlready()
    const as = speaksAs(ctx, found.doubt)
    refuseUnproved(ctx, found, input)
    const settlement = insertFor(ctx, tx, found.doubt, as, input)
    recordEvent(ctx, tx, { action: 'doubt.settled', table: 'doubt_settlements', id: settlement.id })
    return settlement
  })
}

/** The same for a part that was fitted without a word of the joint (T). */
export function settlePart(ctx: Context, id: string, input: PartSettlementInput): PartSettlement {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const { part } = requirePart(ctx, id)
    if (part.settled !== null) throw settledAlready()
    const settlement = insertForPart(ctx, tx, part, input)
    recordEvent(ctx, tx, { action: 'doubt.settled', table: 'part_line_settlements', id: settlement.id })
    return settlement
  })
}

/**
 * A person settles at once what one cause has put in doubt (T): one act with its reason, one row for each joint. For a wrench
 * or gauge only after a check that found it good since, which speaks for every joint. Without such a check a joint that safety
 * hangs on stays in doubt until it is proved by itself; where that was done, it waits for a second person, who does the same.
 * Problems: invalid-input, doubt-settled, no-good-check, same-person, look-again-too-soon.
 */
export function settleCause(ctx: Context, input: CauseSettlementInput): CauseSettlement {
  authorise(ctx, 'technician')
  return write(ctx, tx => {
    const { cause: kind, cause_id } = input
    const found = findDoubts(ctx, null).filter(({ doubt }) => doubt.cause_id === cause_id && doubt.cause === kind)
    const parts = kind === 'batch' ? findParts(ctx, null).filter(({ part }) => part.batch_fault_id === cause_id) : []
    const cause = found[0]?.cause ?? parts[0]?.cause
    if (cause === undefined) throw touchedNothing(ctx, input)
    if (cause.tool !== null && cause.good_since === null)
      throw problem('no-good-check', {
        detail: `No check since has found ${cause.because} good. Record one first, or settle each joint by itself.`,
      })
    const open = found.flatMap(({ doubt }) => (doubt.settled === null ? [doubt] : []))
    const openParts = parts.filter(({ part }) => part.settled === null)
    const atOnce = settledAtOnce(ctx, cause, open)
    if (open.length > 0 && atOnce.length + openParts.length === 0)
      throw problem('no-good-check', { detail: eachByItself(open.length) })
    const settlements = stillToSay(ctx, atOnce, openParts).map(doubt =>
      insertFor(ctx, tx, doubt, cause.tool === null ? speaksAs(ctx, doubt) : null, input),
    )
    const part_settlements = openParts.map(({ part }) => insertForPart(ctx, tx, part, input))
    const first = settlements[0] ?? part_settlements[0]
    if (first === undefined) throw settledAlready()
    recordEvent(ctx, tx, {
      action: 'doubts.settled-at-once',
      table: settlements.length > 0 ? 'doubt_settlements' : 'part_line_settlements',
      id: first.id,
      detail: { cause: kind, cause_id, joints: settlements.length, parts: part_settlements.length },
    })
    return { cause: kind, cause_id, settlements, part_settlements }
  })
}

/** Those on which this person has not spoken yet; all of them where nothing else is left to settle. */
function stillToSay(ctx: Context, open: readonly Doubt[], parts: readonly FoundPart[]): readonly Doubt[] {
  const others = open.filter(({ waits_for_second_person: first }) => {
    return first === null || first.by !== (ctx.actor?.id ?? null)
  })
  return others.length + parts.length > 0 ? others : open
}

/**
 * Those of a cause's open doubts that one act may settle: of a wrench or gauge all of them, once a later check found it good;
 * of anything else those on which safety does not hang, or whose joint was proved already.
 */
export function settledAtOnce(ctx: Context, cause: Cause, open: readonly Doubt[]): Doubt[] {
  if (cause.tool !== null) return cause.good_since === null ? [] : [...open]
  return open.filter(doubt => !wantsWrench(ctx, { doubt, cause }))
}

/** Why one act does not settle joints on which safety hangs. */
export function eachByItself(count: number): string {
  const which = count === 1 ? 'the joint that is' : `each of the ${countWord(count)} joints that are`
  return `Safety hangs on ${which} left: no word settles it at once. Each is settled by itself, with the wrench that its torque was checked with.`
}

function touchedNothing(ctx: Context, { cause, cause_id }: CauseSettlementInput) {
  const known = causesOfDoubt(ctx).byId.get(cause_id)?.cause === cause
  const detail = known
    ? 'Nothing is in doubt because of this.'
    : `There is no ${cause} with this id that puts anything in doubt.`
  return invalid({ pointer: '/cause_id', detail, code: 'unknown' })
}

function settledAlready() {
  return problem('doubt-settled', { detail: 'Somebody has settled this already; what was recorded stays.' })
}

function insertFor(
  ctx: Context,
  tx: Tx,
  { joint_id, cause, cause_id }: Doubt,
  as: Word['as'],
  { how, note, checked_with }: DoubtSettlementInput,
): DoubtSettlement {
  const told = { how, note: note ?? null, as, checked_with_id: checked_with ?? null }
  const row = { ...newRecord(ctx), joint_id, cause, cause_id, ...told }
  insertDoubtSettlement(tx, row)
  return {
    ...{
      id: row.id,
      created_at: toInstant(row.created_at),
      created_by: row.created_by,
      joint_id,
      cause,
      cause_id,
      how,
    },
    ...withoutNulls({ note: row.note, checked_with: row.checked_with_id, as }),
  }
}

function insertForPart(ctx: Context, tx: Tx, part: PartInDoubt, { how, note }: PartSettlementInput): PartSettlement {
  const { batch_fault_id, part_line_id } = part
  const row = { ...newRecord(ctx), batch_fault_id, part_line_id, how, note: note ?? null }
  insertPartLineSettlement(tx, row)
  return { ...withoutNulls(row), created_by: row.created_by, created_at: toInstant(row.created_at) }
}
