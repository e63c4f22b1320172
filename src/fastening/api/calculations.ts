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

/**
 * What the contract cannot say of numbers that hang together, core says as a RangeError: here it is the caller's input, put
 * down to the field at `pointer`, which is the one that the others do not allow.
 */
function computed<T>(pointer: string, work: () => T): T {
  try {
    return work()
  } catch (error) {
    if (error instanceof RangeError) throw invalid({ pointer, detail: `${error.message}.`, code: 'does_not_fit' })
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
    handle: (_, { body }) => computed('/lower', () => verdict(body)),
  })
  apiCompute(api, {
    url: '/fastening/sequence',
    summary: 'The tightening order of a circle, a row or a rectangle.',
    body: SequenceQuestion,
    answer: SequenceAnswer,
    handle: (_, { body }) => computed('/rows', () => ({ order: sequence(body) })),
  })
  apiCompute(api, {
    url: '/fastening/adapter',
    summary: 'What to set a wrench to through an adapter, with the hand at the grip mark.',
    body: AdapterQuestion,
    answer: AdapterAnswer,
    handle: (_, { body }) => computed('/adapter_length_mm', () => ({ set_nm: adapter(body) })),
  })
  apiCompute(api, {
    url: '/fastening/preload',
    summary: 'An estimate of the preload that a torque leaves in a bolt; the maker’s torque governs.',
    body: PreloadQuestion,
    answer: PreloadAnswer,
    handle: (_, { body }) => computed('/torque_nm', () => preload(body)),
  })
}
