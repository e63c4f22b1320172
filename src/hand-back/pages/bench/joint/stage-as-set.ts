import { settingsOf } from '../../../../accounts/index.ts'
import { StageAsSetInput } from '../../../../fastening/contract.ts'
import { recordStageAsSet } from '../../../../fastening/index.ts'
import type { Context } from '../../../../platform/context.ts'
import { typedOf } from '../../../../platform/http/form-on-page.ts'
import type { FormState } from '../../../../platform/http/form-state.ts'
import { pageForm } from '../../../../platform/http/page-route.ts'
import type { PageAnswer, Pages } from '../../../../platform/http/pages.ts'
import { ref, words } from '../../../../platform/pages/words.ts'
import { jointAtBench } from '../../../service/bench/joint.ts'
import { measure } from '../words.ts'
import { countsWords, setTo, toolsQuery } from './at-hand.ts'
import { Asked, subjectOf } from './page.ts'

const HAPPENED = [
  { value: '', label: 'nothing yet: it is done by itself' },
  { value: 'slipped', label: 'it slipped' },
  { value: 'broke', label: 'it broke' },
  { value: 'replaced', label: 'it was replaced by a new one' },
]

/** A whole stage at once, as the wrench was set, but for the fasteners that are marked. */
export function stageAsSetPage(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/joints/:id/stage-as-set',
    contract: StageAsSetInput,
    page: (ctx, { params, query, form }) => stagePage(ctx, params.id, Asked.parse(query), form),
    submit(ctx, input, { params }) {
      const { records, left_out } = recordStageAsSet(ctx, params.id, input)
      const set = records.filter(record => record.basis === 'set').length
      const { wrench_id, adapter_id, adapter_angle_deg } = input
      const sentences = [`Stage ${input.stage}: ${set} recorded as set.`, ...left_out.map(({ sentence }) => sentence)]
      return {
        to: `/bench/joints/${params.id}${toolsQuery({ wrench_id, adapter_id, adapter_angle_deg })}#now`,
        notice: sentences.join(' '),
      }
    },
  })
}

function stagePage(ctx: Context, jointId: string, asked: Asked, form: FormState): PageAnswer {
  const sheet = jointAtBench(ctx, jointId, { ...asked, ...typedTools(form) })
  const { joint, at_hand, numbers } = sheet
  const tools = at_hand?.torque ?? null
  const covered = joint.state.fasteners
    .filter(({ next_stage, fault, needs }) => {
      const isOwn = fault !== null && (fault.kind !== 'joint_redone' || needs === 'replace')
      return next_stage === at_hand?.stage && !isOwn
    })
    .map(({ position }) => ({ position, number: numbers[position - 1]! }))
    .sort((one, other) => one.number - other.number)
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
      back: `/bench/joints/${jointId}`,
      form:
        at_hand === null || tools?.wrench == null || covered.length === 0
          ? null
          : {
              action: `/bench/joints/${jointId}/stage-as-set`,
              stage: `Stage ${at_hand.stage} of ${joint.row.revision.stages.length}, as set`,
              target: measure(at_hand.kind, setTo(at_hand), settingsOf(ctx).torque_unit),
              wrench: words('Wrench ', ref(tools.wrench.name), `. ${countsWords(at_hand)}`),
              hidden: [
                { name: 'stage', value: String(at_hand.stage) },
                { name: 'wrench_id', value: tools.wrench.id },
                { name: 'unit', value: 'N.m' },
                ...(tools.adapter === null
                  ? []
                  : [
                      { name: 'adapter_id', value: tools.adapter.facts.id },
                      { name: 'adapter_angle_deg', value: String(tools.adapter.angle_deg) },
                    ]),
              ],
              rows: covered.map(({ position, number }, at) => rowView(form, at, position, number)),
              button: `All the others clicked at ${measure(at_hand.kind, setTo(at_hand))}: record the stage`,
            },
    },
  }
}

function typedTools({ typed }: FormState): Asked {
  const { wrench_id, adapter_id, adapter_angle_deg } = typed
  return Asked.parse(wrench_id === undefined ? {} : { wrench_id, adapter_id, adapter_angle_deg })
}

function rowView({ typed, errors }: FormState, at: number, position: number, number: number) {
  const name = `exceptions[${at}]`
  const happened = typedOf(typed, `${name}[event]`)
  return {
    name,
    id: `exception-${at}`,
    number,
    position,
    ticked: typed[`${name}[position]`] !== undefined,
    events: HAPPENED.map(each => ({ ...each, selected: each.value === happened })),
    problem: [errors[`${name}[position]`], errors[`${name}[event]`]].filter(Boolean).join(' '),
  }
}
