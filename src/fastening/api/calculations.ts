import { type Api, apiCompute } from '../../platform/http/api-route.ts'
import {
  AdapterAnswer,
  AdapterQuestion,
  PreloadAnswer,
  PreloadQuestion,
  SequenceAnswer,
  SequenceQuestion,
  VerdictAnswer,
  VerdictQuestion,
} from '../contract.ts'
import { answerAdapter, answerPreload, answerSequence, answerVerdict } from '../service/calculations.ts'

/** The computations of fastening, open to any login. They store nothing. */
export function fasteningCalculationsApi(api: Api): void {
  apiCompute(api, {
    url: '/fastening/verdict',
    summary: 'The verdict of a measured reading with its guard band.',
    body: VerdictQuestion,
    answer: VerdictAnswer,
    handle: (_, { body }) => answerVerdict(body),
  })
  apiCompute(api, {
    url: '/fastening/sequence',
    summary: 'The tightening order of a circle, a row or a rectangle.',
    body: SequenceQuestion,
    answer: SequenceAnswer,
    handle: (_, { body }) => ({ order: answerSequence(body) }),
  })
  apiCompute(api, {
    url: '/fastening/adapter',
    summary: 'What to set a wrench to through an adapter, with the hand at the grip mark.',
    body: AdapterQuestion,
    answer: AdapterAnswer,
    handle: (_, { body }) => ({ set_nm: answerAdapter(body) }),
  })
  apiCompute(api, {
    url: '/fastening/preload',
    summary: 'An estimate of the preload that a torque leaves in a bolt; the maker’s torque governs.',
    body: PreloadQuestion,
    answer: PreloadAnswer,
    handle: (_, { body }) => answerPreload(body),
  })
}
