import { createOperation } from '../../src/catalogue/index.ts'
import type { OrderWorld } from './order-world.ts'

/** No joint, and what is to be marked is under the cover (here: behind the wheel). */
export function tensionerOperation(w: OrderWorld): string {
  return createOperation(w.owner, {
    ...{ name: 'Chain tensioner: replace', hours: 1.4, access_step_ids: [w.wheel], joints: [], looks: [] },
    marks: [
      { text: 'Chain to both wheels', behind_step_id: w.wheel },
      { text: 'Tensioner as it sits', behind_step_id: w.wheel, photo: true },
    ],
    tools: [{ tool: 'Plug', count: 5, for_step_id: w.wheel, before_step_id: w.wheel }],
    final_checks: ['Quiet from cold'],
    turns_engine: true,
    sound_before_after: true,
  }).id
}
