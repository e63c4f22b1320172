import { z } from 'zod'
import { namesOfPeople, settingsOf } from '../../../../accounts/index.ts'
import { TORQUE_UNITS } from '../../../../core/vocabulary.ts'
import type { Context } from '../../../../platform/context.ts'
import { typedOf } from '../../../../platform/http/form-on-page.ts'
import type { FormState } from '../../../../platform/http/form-state.ts'
import type { PageAnswer } from '../../../../platform/http/pages.ts'
import { boltPattern } from '../../../../platform/pages/figures/bolt-pattern.ts'
import { link, plate, ref, type Words, words } from '../../../../platform/pages/words.ts'
import { type JointAtBench, jointAtBench } from '../../../service/bench/joint.ts'
import { figure, LEAVING_ANSWERS, measure } from '../words.ts'
import { atHandView, eventActions, happenedActions, withTools } from './at-hand.ts'
import { BeyondWrench } from './beyond-wrench.ts'
import { inOrder, jointInput, positionWords } from './drawing.ts'
import { fastenersView, temporaryWarning } from './fasteners.ts'
import { marksToMake, outBeforeSigning, toolsInside } from './first.ts'
import { leavingWords, leftView, resumptionWords } from './left.ts'
import { NEWEST, recordsTable, recordWords } from './records.ts'
import { lastSecond, secondFact } from './second.ts'
import { signingView } from './signing.ts'
import { cannotProve, toolsView } from './tools.ts'
import { halfRedone, redoneSoFar, troubleOf } from './trouble.ts'

/** What the address of a joint's page may ask for; what cannot be read is not asked. */
export const Asked = z.object({
  position: z.coerce.number().int().positive().optional().catch(undefined),
  wrench_id: z.string().optional().catch(undefined),
  gauge_id: z.string().optional().catch(undefined),
  adapter_id: z.string().optional().catch(undefined),
  adapter_angle_deg: z.coerce.number().min(-180).max(180).optional().catch(undefined),
  unit: z.enum(TORQUE_UNITS).optional().catch(undefined),
  records: z.literal('all').optional().catch(undefined),
})
export type Asked = z.output<typeof Asked>

export function subjectOf({ vehicle, joint }: JointAtBench): Words {
  return words(
    ...(vehicle.plate === undefined ? [] : [plate(vehicle.plate), ' ']),
    `${vehicle.family}${vehicle.variant === undefined ? '' : `, ${vehicle.variant}`} · ${joint.row.job.task}`,
  )
}

/** The joint's page, with whatever was typed into the form that came back (`back` says which): the drawing, the next fastener beside it, and under them what is known of the joint. */
export function jointPage(
  ctx: Context,
  jointId: string,
  asked: Asked,
  form: FormState,
  back: string = 'reading',
): PageAnswer {
  const sheet = jointAtBench(ctx, jointId, asked)
  const { joint, at_hand } = sheet
  const settings = settingsOf(ctx)
  const people = namesOfPeople(ctx)
  const { revision } = joint.row
  const { time_zone } = settings
  const isLive = joint.row.handed_back_at === null && joint.left === null
  // before its marks are made nothing is recorded on it
  const isMarked = sheet.marks_first.length === 0
  const { wrench_id, gauge_id, adapter_id, adapter_angle_deg, unit } = asked
  const chosen = { wrench_id, gauge_id, adapter_id, adapter_angle_deg, unit }
  const drawn = jointInput(sheet, isLive, chosen)
  const address = `/bench/joints/${jointId}`
  const all = asked.records === 'all'
  const typed = (what: string, name: string) => (back === what ? typedOf(form.typed, name) : '')
  return {
    template: 'hand-back/joint',
    sheet: {
      title: joint.row.joint.name,
      sheet_number: words(ref(joint.row.order_number), ` ${joint.row.job.letter}`),
      subject: subjectOf(sheet),
      dates: `${revision.severity} joint · ${joint.row.procedure_name}, revision ${revision.revision}`,
      nav: 'bench',
      at_bench: true,
      scripts: ['bench.js'],
      says_notice: true,
    },
    view: {
      pattern: boltPattern(drawn),
      in_order: inOrder(drawn),
      at_hand:
        at_hand === null
          ? null
          : {
              ...atHandView(at_hand, revision.stages, {
                value: typed('reading', 'value'),
                unit: typed('reading', 'unit'),
                reason: typed('reading', 'out_of_order_reason'),
                note: typed('reading', 'wrench_note'),
              }),
              ...(!isMarked && { must_fit: true }),
            },
      action: address,
      errors: back === 'reading' ? Object.values(form.errors) : [],
      beyond: back === 'reading' && form.errors.beyond_wrench !== undefined ? BeyondWrench.meta()?.title : null,
      redone_so_far: redoneSoFar(sheet),
      event_actions: at_hand === null || !isMarked ? [] : eventActions(jointId, at_hand),
      done: isLive && at_hand === null ? doneView(sheet, asked.position) : null,
      ...stageAsSet(sheet, isMarked, settings.stage_as_set_on_safety),
      leaving:
        isLive && joint.records.length > 0 && !joint.state.complete
          ? {
              action: `${address}/leavings`,
              answers: LEAVING_ANSWERS,
              came_back: back === 'leavings',
              reason: typed('leavings', 'reason'),
            }
          : null,
      left: leftView(sheet, people, time_zone),
      marks_first: marksToMake(sheet),
      out_before_signing: outBeforeSigning(sheet),
      temporary: temporaryWarning(sheet, people, time_zone),
      doubts: sheet.doubts.filter(doubt => doubt.open).map(doubt => doubt.told),
      is_signed: joint.signed,
      cannot_prove: at_hand === null ? null : cannotProve(at_hand),
      half_redone: isLive ? halfRedone(sheet, chosen) : [],
      trouble: isLive ? troubleOf(sheet, chosen) : [],
      last_second: lastSecond(sheet, ctx.actor?.id ?? null, settings),
      tools_here: at_hand === null ? null : toolsView(jointId, at_hand),
      facts: [...jointFacts(sheet, time_zone), ...secondFact(sheet)],
      tools: toolsInside(sheet, time_zone),
      signing: signingView(
        ctx,
        sheet,
        people,
        settings,
        back === 'sign-offs' ? [form.typed.looked_at ?? []].flat() : [],
      ),
      fasteners: fastenersView(ctx, sheet, typed),
      history: joint.leavings.map(leaving =>
        [leavingWords(sheet, leaving, people, time_zone), resumptionWords(leaving, people, time_zone)].join(' '),
      ),
      records: recordsTable(sheet, people, time_zone, all ? joint.records.length : NEWEST),
      all_records:
        all || joint.records.length <= NEWEST
          ? null
          : { href: `${address}?records=all#records`, text: `All ${joint.records.length} records` },
      source: `By ${revision.source}. Use the maker’s current values: the manual governs.`,
      more: [
        { kind: 'button', label: 'Back to the job card', href: `/bench/jobs/${joint.row.job.id}` },
        { kind: 'link', label: 'Fastening record, for paper', href: `/joints/${jointId}/record` },
      ],
    },
  }
}

/** A fastener that is done and was tapped: what may have happened to it since. */
function doneView({ joint, numbers }: JointAtBench, position: number | undefined) {
  const own = joint.state.fasteners[(position ?? 0) - 1]
  if (own === undefined) return null
  const number = numbers[own.position - 1]!
  const at = { ...own, number, stage: joint.row.revision.stages.length }
  return {
    say: `Fastener ${number}: every stage is done`,
    actions: happenedActions(joint.row.joint.id, at, ['slipped', 'broke', 'replaced']),
    next: { href: `/bench/joints/${joint.row.joint.id}#now`, text: 'On to what is next' },
  }
}

/** The way to a whole stage at once, or why there is none on this joint. */
function stageAsSet({ joint, at_hand }: JointAtBench, isMarked: boolean, onSafety: boolean) {
  if (!isMarked || at_hand?.torque?.wrench?.kind !== 'clicks' || at_hand.action !== 'tighten')
    return { whole: null, no_whole: null }
  if (joint.row.revision.severity === 'safety' && !onSafety)
    return {
      whole: null,
      no_whole:
        'On a joint that safety hangs on, this workshop records each fastener by itself, never a whole stage at once.',
    }
  const { id } = joint.row.joint
  return {
    whole: withTools(id, at_hand, { position: undefined, stage: at_hand.stage })
      .replace(/#now$/, '')
      .replace(id, `${id}/stage-as-set`),
    no_whole: null,
  }
}

/** Facts in a line under the drawing: the tool, what was recorded last, the order. */
function jointFacts(sheet: JointAtBench, timeZone: string): { label: string; value: Words }[] {
  const { joint, at_hand } = sheet
  const last = joint.records.at(-1)
  const { order, thread, class: strength } = joint.row.revision
  const kind = [thread, strength === null ? null : `class ${strength}`].filter(each => each !== null).join(', ')
  return [
    ...(at_hand === null ? [] : [{ label: at_hand.torque === null ? 'Gauge' : 'Wrench', value: toolWords(at_hand) }]),
    ...(last === undefined ? [] : [{ label: 'Recorded last', value: recordWords(sheet, last, timeZone) }]),
    {
      label: 'Order',
      value: `as the heads are numbered, ${order === null ? 'by rule' : 'the maker’s own'}; it matters here`,
    },
    { label: 'Positions', value: positionWords(joint) },
    ...(kind === '' ? [] : [{ label: 'Fasteners', value: kind }]),
  ]
}

function toolWords({ torque, angle, uncertainty, kind }: NonNullable<JointAtBench['at_hand']>): Words {
  const good = uncertainty === null ? 'its uncertainty is not known' : `good to ±${measure(kind, uncertainty)} here`
  if (angle !== null)
    return angle.gauge === null
      ? angle.gauges.setting_deg === null
        ? 'no gauge of the shop can be used: see why below'
        : `an angle gauge, good to ±${figure(angle.gauges.setting_deg)}° (a setting)`
      : words(ref(angle.gauge.name), `, ${good}`)
  if (torque?.wrench == null) return 'no wrench of the shop can be used here: see why below'
  const { name, kind: wrenchKind, id } = torque.wrench
  const through =
    torque.adapter === null ? '' : `, with ${torque.adapter.facts.name} at ${figure(torque.adapter.angle_deg)}°`
  return words(
    link(`/tools/wrenches/${id}`, ref(name)),
    `, ${wrenchKind === 'clicks' ? 'clicks at its setting' : 'reads out'}${through}, ${good}`,
  )
}
