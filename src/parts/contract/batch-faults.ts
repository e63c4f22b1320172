import { z } from 'zod'
import { Id, Line, Name, RecordFields } from '../../platform/contract.ts'

export const BatchFaultInput = z
  .strictObject({
    batch: Name.meta({ title: 'Batch', description: 'As it stands on the box and on the job', classes: 'medium' }),
    reason: Line.meta({ title: 'What is wrong with it', description: 'And who says so' }),
  })
  .meta({ id: 'BatchFaultInput' })
export type BatchFaultInput = z.infer<typeof BatchFaultInput>

/** A batch of a part that was found bad: every joint that got any of it is in doubt. */
export const BatchFault = z
  .strictObject({ ...RecordFields, part_id: Id, ...BatchFaultInput.shape })
  .meta({ id: 'BatchFault' })
export type BatchFault = z.infer<typeof BatchFault>
