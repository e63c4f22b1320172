import { adapter } from '../../core/fastening/adapter.ts'
import { preload } from '../../core/fastening/preload.ts'
import { sequence } from '../../core/fastening/sequence.ts'
import { verdict } from '../../core/fastening/verdict.ts'
import { type Api, apiCompute } from '../../platform/http/api-route.ts'
import { invalid } from '../../platform/problems.ts'
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

/** What the contract cannot say of numbers that hang together, core says as a RangeError: here it is the caller's input. */
function computed<T>(work: () => T): T {
  try {
    return work()
  } catch (error) {
    if (error instanceof RangeError) throw invalid({ pointer: '', detail: `${error.message}.`, code: 'does_not_fit' })
    throw error
  }
}

/** The computations of fastening, open to any login. They store nothing. */
export function fasteningCalculationsApi(api: Api): void {
  apiCompute(api, {
    url: '/fastening/verdict',
    summary: 'The verdict of a measured reading with its guard band.',
    body: VerdictQuestion,
    answer: VerdictAnswer,
    handle: (_, { body }) => computed(() => verdict(body)),
  })
  apiCompute(api, {
    url: '/fastening/sequence',
    summary: 'The tightening order of a circle, a row or a rectangle.',
    body: SequenceQuestion,
    answer: SequenceAnswer,
    handle: (_, { body }) => computed(() => ({ order: sequence(body) })),
  })
  apiCompute(api, {
    url: '/fastening/adapter',
    summary: 'What to set a wrench to through an adapter, with the hand at the grip mark.',
    body: AdapterQuestion,
    answer: AdapterAnswer,
    handle: (_, { body }) => computed(() => ({ set_nm: adapter(body) })),
  })
  apiCompute(api, {
    url: '/fastening/preload',
    summary: 'An estimate of the preload that a torque leaves in a bolt; the maker’s torque governs.',
    body: PreloadQuestion,
    answer: PreloadAnswer,
    handle: (_, { body }) => computed(() => preload(body)),
  })
}
