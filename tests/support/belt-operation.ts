import { addProcedureRevision, createOperation, createProcedure } from '../../src/catalogue/index.ts'
import type { OrderWorld } from './order-world.ts'

/** An engine job behind two steps: a mark of its own, marks of its joint, a pin, small things, an engine to turn. */
export function beltOperation(w: OrderWorld): string {
  const procedure = createProcedure(w.owner, { name: 'Tensioner bolt' }).id
  addProcedureRevision(w.owner, procedure, {
    layout: 'circle',
    count: 2,
    stages: [{ kind: 'torque', target: 25, lower: 20, upper: 30 }],
    marks: ['Arm against its scale marked'],
    reuse: 'free',
    severity: 'breakdown',
    on_failure: 'restart',
    source: 'Invented maker’s manual, page 61',
  })
  return createOperation(w.owner, {
    name: 'Cam belt: renew',
    hours: 2,
    access_step_ids: [w.carrier],
    joints: [{ name: 'Tensioner', procedure_id: procedure, behind_step_id: w.wheel }],
    looks: [],
    final_checks: ['Idles evenly'],
    marks: [{ text: 'Belt and wheels marked', before_step_id: w.wheel }, { text: 'Left side photographed' }],
    tools: [
      { tool: 'Cam locking pin', for_step_id: w.wheel, before_step_id: w.wheel },
      { tool: 'Plug', count: 4, before_step_id: w.wheel },
    ],
    turns_engine: true,
    sound_before_after: true,
  }).id
}
