import { z } from 'zod'
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
  leaveJoint,
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
import { addPartLine } from '../../../work-orders/index.ts'
import { jointAtBench } from '../../service/bench/joint.ts'
import { toolsQuery } from './joint/at-hand.ts'
import { correctionPage } from './joint/correction.ts'
import { Asked, jointPage } from './joint/page.ts'
import { fasteningRecordPage } from './joint/record-sheet.ts'
import { stageAsSetPage } from './joint/stage-as-set.ts'

/** The drawn joint: record fastener by fastener or a whole stage, say what happened, leave it and take it up, sign. */
export function jointPages(pages: Pages): void {
  pageForm(pages, {
    url: '/bench/joints/:id',
    contract: TorqueRecordInput,
    page: (ctx, { params, query, form }) =>
      jointPage(ctx, params.id, Asked.parse({ ...query, ...askedAgain(form) }), form),
    submit(ctx, input, { params }) {
      askWhyOutOfTurn(ctx, params.id, input)
      const { wrench_id, gauge_id, adapter_id, adapter_angle_deg, unit, verdict } = recordTorque(ctx, params.id, input)
      const isTorque = unit !== undefined && unit !== 'deg'
      const tools = { wrench_id, gauge_id, adapter_id, adapter_angle_deg, ...(isTorque && { unit }) }
      return {
        to: `/bench/joints/${params.id}${toolsQuery(tools)}#now`,
        ...(verdict !== 'conforms' && verdict !== 'as_set' && { notice: refusalWords(verdict) }),
      }
    },
  })
  tap(pages, 'events', TorqueRecordInput, (ctx, jointId, input) => void recordTorque(ctx, jointId, input))
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
  signing(pages)
  stageAsSetPage(pages)
  correctionPage(pages)
  fasteningRecordPage(pages)
}

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

function signing(pages: Pages): void {
  pagePost(pages, {
    url: '/bench/joints/:id/sign-offs',
    contract: SignOffInput,
    page: (ctx, { params, form }) => jointPage(ctx, params.id, {}, form, 'sign-offs'),
    submit(ctx, input, { params }) {
      if (input.as === 'second_person' && new Set(input.looked_at).size < 3)
        throw invalid({
          pointer: '/looked_at',
          detail: 'Look at marks, count and stripe, and tick each of them.',
          code: 'missing',
        })
      signOffJoint(ctx, params.id, input)
      const { joint } = jointAtBench(ctx, params.id, {})
      return { to: `/bench/jobs/${joint.row.job.id}`, notice: `${joint.row.joint.name}: signed.` }
    },
  })
}

/** Where order matters, another fastener than the next is recorded with its reason; nobody's tap chooses one for them. */
function askWhyOutOfTurn(ctx: Context, jointId: string, { position, out_of_order_reason }: TorqueRecordInput): void {
  if (out_of_order_reason !== undefined) return
  const next = jointAtBench(ctx, jointId, {}).at_hand
  if (next === null || next.position === position) return
  throw invalid({
    pointer: '/out_of_order_reason',
    detail: `Fastener ${next.number} is next. Say why it is another one’s turn.`,
    code: 'missing',
  })
}

/** A reading that came back with a fault is shown at the same fastener, with the same tools. */
function askedAgain({ typed }: FormState) {
  const names = ['position', 'wrench_id', 'gauge_id', 'adapter_id', 'adapter_angle_deg', 'unit']
  return Object.fromEntries(names.filter(name => typed[name] !== undefined).map(name => [name, typed[name]]))
}

function refusalWords(verdict: string | null): string {
  return verdict === 'unsure'
    ? 'Recorded as unsure: too near a limit for this tool to tell, or the tool’s uncertainty is not known. It must be done again.'
    : 'Recorded as outside its limits. It must be dealt with before the joint can be signed.'
}
