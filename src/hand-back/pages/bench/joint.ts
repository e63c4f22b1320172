import { z } from 'zod'
import { capital, listed } from '../../../core/words.ts'
import {
  FastenerInspectionInput,
  JointLeavingInput,
  JointResumptionInput,
  SignOffInput,
  TemporaryUseInput,
  TorqueRecordInput,
} from '../../../fastening/contract.ts'
import {
  inspectFasteners,
  isOutOfTurn,
  leaveJoint,
  loadJoint,
  marksFirst,
  positionInTurn,
  recordTorque,
  resumeJoint,
  signOffJoint,
  useTemporarily,
} from '../../../fastening/index.ts'
import type { Context } from '../../../platform/context.ts'
import { Id } from '../../../platform/contract.ts'
import type { FormState } from '../../../platform/http/form-state.ts'
import { pageForm, pagePost } from '../../../platform/http/page-route.ts'
import type { Pages } from '../../../platform/http/pages.ts'
import { invalid } from '../../../platform/problems.ts'
import { PartLineInput } from '../../../work-orders/contract.ts'
import { addPartLine, recordMark } from '../../../work-orders/index.ts'
import { jointAtBench } from '../../service/bench/joint.ts'
import { toolsQuery } from './joint/at-hand.ts'
import { askBeyondWrench } from './joint/beyond-wrench.ts'
import { correctionPage } from './joint/correction.ts'
import { Asked, jointPage } from './joint/page.ts'
import { ReadingForm } from './joint/reading.ts'
import { fasteningRecordPage } from './joint/record-sheet.ts'
import { eventWords, goOnAt, notGoodWords } from './joint/recorded.ts'
import { stageAsSetPage } from './joint/stage-as-set.ts'

/** The drawn joint: record fastener by fastener or a whole stage, say what happened, leave it and take it up, sign. */
export function jointPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/joints/:id',
    contract: ReadingForm,
    page: (ctx, { params, query, form }) =>
      jointPage(ctx, params.id, Asked.parse({ ...query, ...askedAgain(form) }), form),
    submit(ctx, { beyond_wrench, ...input }, { params }) {
      askWhyOutOfTurn(ctx, params.id, input)
      askBeyondWrench(ctx, input, beyond_wrench)
      const record = recordTorque(ctx, params.id, input)
      const { wrench_id, gauge_id, adapter_id, adapter_angle_deg, unit, verdict } = record
      const isTorque = unit !== undefined && unit !== 'deg'
      const tools = { wrench_id, gauge_id, adapter_id, adapter_angle_deg, ...(isTorque && { unit }) }
      const sheet = jointAtBench(ctx, params.id, {})
      const isGood = verdict === 'conforms' || verdict === 'as_set'
      return {
        to: `/bench/joints/${params.id}${toolsQuery({ ...goOnAt(sheet, record.position), ...tools })}#now`,
        ...(!isGood && { notice: notGoodWords(sheet, record) }),
      }
    },
  })
  pagePost(pages, {
    url: '/bench/joints/:id/events',
    contract: TorqueRecordInput,
    page: (ctx, { params, form }) => jointPage(ctx, params.id, {}, form, 'events'),
    submit(ctx, input, { params }) {
      const record = recordTorque(ctx, params.id, input)
      const sheet = jointAtBench(ctx, params.id, {})
      return {
        to: `/bench/joints/${params.id}${toolsQuery(goOnAt(sheet, record.position))}#now`,
        notice: eventWords(sheet, record),
      }
    },
  })
  tap(pages, 'leavings', JointLeavingInput, (ctx, jointId, input) => {
    leaveJoint(ctx, jointId, input)
    return 'Left here. Whoever comes next sees where, and why.'
  })
  tap(pages, 'resumptions', Resumption, (ctx, jointId, { leaving_id, how }) => {
    if (jointAtBench(ctx, jointId, {}).joint.leavings.every(leaving => leaving.id !== leaving_id))
      throw invalid({ pointer: '/leaving_id', detail: 'This joint has not been left so.', code: 'unknown' })
    resumeJoint(ctx, leaving_id, { how })
  })
  tap(pages, 'part-lines', NewFasteners, (ctx, jointId, { cost_minor = 0, price_minor = 0, ...input }) => {
    const { job } = jointAtBench(ctx, jointId, {}).joint.row
    addPartLine(ctx, job.id, { ...input, cost_minor, price_minor, condition: 'new', joint_id: jointId })
    return 'Issued to this joint.'
  })
  tap(pages, 'temporary-uses', TemporaryUseInput, (ctx, jointId, input) => void useTemporarily(ctx, jointId, input))
  tap(
    pages,
    'fastener-inspections',
    FastenerInspectionInput,
    (ctx, jointId, input) => void inspectFasteners(ctx, jointId, input),
  )
  tap(pages, 'marks', MarkMade, (ctx, jointId, { mark_id }) => {
    if (marksFirst(ctx, loadJoint(ctx, jointId)).every(({ id }) => id !== mark_id))
      throw invalid({ pointer: '/mark_id', detail: 'No mark of this joint waits to be made so.', code: 'unknown' })
    recordMark(ctx, mark_id, {})
  })
  signing(pages)
  stageAsSetPage(pages)
  correctionPage(pages)
  fasteningRecordPage(pages)
}

const MarkMade = z.strictObject({ mark_id: Id })
const Resumption = z.strictObject({ leaving_id: Id, ...JointResumptionInput.shape })

/** What is issued to the joint right here; what it costs may be left to the desk. */
const NewFasteners = z.strictObject({
  part_id: PartLineInput.shape.part_id,
  quantity: PartLineInput.shape.quantity.meta({ title: 'How many' }),
  batch: PartLineInput.shape.batch.unwrap().meta({ title: 'Batch' }),
  cost_minor: PartLineInput.shape.cost_minor.optional(),
  price_minor: PartLineInput.shape.price_minor.optional(),
})

/** A further form of the joint's page; `act` may answer what is said on it afterwards. */
function tap<Contract extends z.ZodType>(
  pages: Pages,
  what: string,
  contract: Contract,
  // biome-ignore lint/suspicious/noConfusingVoidType: most say nothing
  act: (ctx: Context, jointId: string, input: z.output<Contract>) => string | void,
): void {
  pagePost(pages, {
    url: `/bench/joints/:id/${what}` as '/bench/joints/:id/x',
    contract,
    page: (ctx, { params, form }) => jointPage(ctx, params.id, {}, form, what),
    submit(ctx, input, { params }) {
      const notice = act(ctx, params.id, input)
      return { to: `/bench/joints/${params.id}#now`, ...(typeof notice === 'string' && { notice }) }
    },
  })
}

/** `not_over_tools`: whoever signs says of tools that are still in beside the joint that it does not close over them. */
const SigningForm = SignOffInput.extend({
  not_over_tools: z.boolean().optional().meta({ title: 'Still in the vehicle' }),
})

function askAboutToolsBeside(ctx: Context, jointId: string): void {
  const beside = jointAtBench(ctx, jointId, {}).tools_in.filter(tool => tool.beside)
  if (beside.length === 0) return
  const tools = capital(listed(beside.map(({ tool }) => tool)))
  throw invalid({
    pointer: '/not_over_tools',
    detail: `${tools} ${beside.length === 1 ? 'is' : 'are'} still in. Take out what this joint closes over, or say that it does not.`,
    code: 'missing',
  })
}

function signing(pages: Pages): void {
  pagePost(pages, {
    url: '/bench/joints/:id/sign-offs',
    contract: SigningForm,
    page: (ctx, { params, form }) => jointPage(ctx, params.id, {}, form, 'sign-offs'),
    submit(ctx, { not_over_tools, ...input }, { params }) {
      if (input.as === 'second_person' && new Set(input.looked_at).size < 3)
        throw invalid({
          pointer: '/looked_at',
          detail: 'Look at marks, count and stripe, and tick each of them.',
          code: 'missing',
        })
      if (not_over_tools !== true) askAboutToolsBeside(ctx, params.id)
      signOffJoint(ctx, params.id, input)
      const { joint } = jointAtBench(ctx, params.id, {})
      return { to: `/bench/jobs/${joint.row.job.id}`, notice: `${joint.row.joint.name}: signed.` }
    },
  })
}

/** Where order matters, another fastener than the next is recorded with its reason; nobody's tap chooses one for them. */
function askWhyOutOfTurn(ctx: Context, jointId: string, input: TorqueRecordInput): void {
  if (input.out_of_order_reason !== undefined) return
  const { joint, numbers } = jointAtBench(ctx, jointId, {})
  if (!isOutOfTurn(joint, input)) return
  throw invalid({
    pointer: '/out_of_order_reason',
    detail: `Fastener ${numbers[positionInTurn(joint)! - 1]} is next. Say why it is another one’s turn.`,
    code: 'missing',
  })
}

/** A reading that came back with a fault is shown at the same fastener, with the same tools. */
function askedAgain({ typed }: FormState) {
  const names = ['position', 'wrench_id', 'gauge_id', 'adapter_id', 'adapter_angle_deg', 'unit']
  return Object.fromEntries(names.filter(name => typed[name] !== undefined).map(name => [name, typed[name]]))
}
