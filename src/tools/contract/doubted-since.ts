import { z } from 'zod'
import { Id, Instant, Line, RecordFields } from '../../platform/contract.ts'

/** Only what a wrench touched from `at` on is in doubt: it was dropped then, and there is a witness or a mark that shows it. */
export const DoubtedSinceInput = z
  .strictObject({
    at: Instant.meta({ title: 'In doubt since', input: 'instant', classes: 'medium' }),
    reason: Line.meta({ title: 'How that is known', description: 'What happened then, and who saw it' }),
  })
  .meta({ id: 'DoubtedSinceInput' })
export type DoubtedSinceInput = z.infer<typeof DoubtedSinceInput>

export const DoubtedSince = z
  .strictObject({ ...RecordFields, calibration_id: Id, ...DoubtedSinceInput.shape })
  .meta({ id: 'DoubtedSince' })
export type DoubtedSince = z.infer<typeof DoubtedSince>
