import { z } from 'zod'
import { settingsOf } from '../../../../accounts/index.ts'
import { hasOwnFault } from '../../../../core/fastening/own-fault.ts'
import { FASTENER_EVENTS } from '../../../../core/vocabulary.ts'
import { StageAsSetInput } from '../../../../fastening/contract.ts'
import { recordStageAsSet } from '../../../../fastening/index.ts'
import type { Context } from '../../../../platform/context.ts'
import type { Typed } from '../../../../platform/forms/names.ts'
import { typedOf } from '../../../../platform/http/form-on-page.ts'
import type { FormState } from '../../../../platform/http/form-state.ts'
import { pageForm } from '../../../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../../../platform/http/pages.ts'
import { ref, words } from '../../../../platform/pages/words.ts'
import { jointAtBench } from '../../../service/bench/joint.ts'
import { measure } from '../words.ts'
import { countsWords, setTo, toolsQuery } from './at-hand.ts'
import { Asked, subjectOf } from './page.ts'

const WENT = [
  { value: '', label: 'like the others' },
  { value: 'not_yet', label: 'not this one: done by itself later' },
  { value: 'slipped', label: 'not this one: it slipped' },
  { value: 'broke', label: 'not this one: it broke' },
  { value: 'replaced', label: 'not this one: replaced by a new one' },
]

const { exceptions: _, ...Setting } = StageAsSetInput.shape

/** One answer for each fastener: what is not like the others is the exception, so that none can be half said. */
const StageForm = z.strictObject({
  ...Setting,
  fasteners: z
    .array(
      z.strictObject({
        position: z.int().positive(),
        went: z.enum(['not_yet', ...FASTENER_EVENTS]).optional(),
      }),
    )
    .optional(),
})

/** A whole stage at once, as the wrench was set, but for the fasteners that are marked. */
export function stageAsSetPage(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/joints/:id/stage-as-set',
    contract: StageForm,
    page: (ctx, { params, query, form }) => stagePage(ctx, params.id, Asked.parse(query), form),
    submit(ctx, { fasteners = [], ...setting }, { params }) {
      const exceptions = fasteners.flatMap(({ position, went }) => {
        if (went === undefined) return []
        return went === 'not_yet' ? [{ position }] : [{ position, event: went }]
      })
      const { records, left_out } = recordStageAsSet(ctx, params.id, { ...setting, exceptions })
      const set = records.filter(record => record.basis === 'set').length
      const { wrench_id, adapter_id, adapter_angle_deg } = setting
      const sentences = [`Stage ${setting.stage}: ${set} recorded as set.`, ...left_out.map(({ sentence }) => sentence)]
      return {
        to: `/bench/joints/${params.id}${toolsQuery({ wrench_id, adapter_id, adapter_angle_deg })}#now`,
        notice: sentences.join(' '),
      }
    },
  })
}

function stagePage(ctx: Context, jointId: string, asked: Asked, form: FormState): PageAnswer {
  const tools = { ...asked, ...typedTools(form) }
  const sheet = jointAtBench(ctx, jointId, tools)
  const { joint, at_hand, numbers } = sheet
  const torque = at_hand?.torque ?? null
  const covered = joint.state.fasteners
    .filter(fastener => fastener.next_stage === at_hand?.stage && !hasOwnFault(fastener))
    .map(({ position }) => ({ position, number: numbers[position - 1]! }))
    .sort((one, other) => one.number - other.number)
  const { wrench_id, adapter_id, adapter_angle_deg } = tools
  return {
    template: 'hand-back/stage-as-set',
    sheet: {
      title: `${joint.row.joint.name}: a whole stage as set`,
      sheet_title: joint.row.joint.name,
      sheet_number: words(ref(joint.row.order_number), ` ${joint.row.job.letter}`),
      subject: subjectOf(sheet),
      nav: 'bench',
      at_bench: true,
    },
    view: {
      back: `/bench/joints/${jointId}${toolsQuery({ wrench_id, adapter_id, adapter_angle_deg })}#now`,
      form:
        at_hand === null || torque?.wrench == null || covered.length === 0
          ? null
          : {
              action: `/bench/joints/${jointId}/stage-as-set`,
              stage: `Stage ${at_hand.stage} of ${joint.row.revision.stages.length}, as set`,
              target: measure(at_hand.kind, setTo(at_hand), settingsOf(ctx).torque_unit),
              wrench: words('Wrench ', ref(torque.wrench.name), `. ${countsWords(at_hand)}`),
              hidden: [
                { name: 'stage', value: String(at_hand.stage) },
                { name: 'wrench_id', value: torque.wrench.id },
                { name: 'unit', value: 'N.m' },
                ...(torque.adapter === null
                  ? []
                  : [
                      { name: 'adapter_id', value: torque.adapter.facts.id },
                      { name: 'adapter_angle_deg', value: String(torque.adapter.angle_deg) },
                    ]),
              ],
              rows: covered.map(({ position, number }) => rowView(form.typed, position, number)),
              button: `The others clicked at ${measure(at_hand.kind, setTo(at_hand))}: record the stage`,
            },
    },
  }
}

function typedTools({ typed }: FormState): Asked {
  const { wrench_id, adapter_id, adapter_angle_deg } = typed
  return Asked.parse(wrench_id === undefined ? {} : { wrench_id, adapter_id, adapter_angle_deg })
}

/** Keyed by the position: which fasteners are listed may change between two looks at the page. */
function rowView(typed: Typed, position: number, number: number) {
  const [row] = Object.keys(typed).filter(
    name => name.startsWith('fasteners[') && name.endsWith('[position]') && typed[name] === String(position),
  )
  const went = row === undefined ? '' : typedOf(typed, row.replace(/\[position\]$/, '[went]'))
  return {
    name: `fasteners[${position}]`,
    id: `fastener-${position}`,
    number,
    position,
    answers: WENT.map(each => ({ ...each, selected: each.value === went })),
  }
}
