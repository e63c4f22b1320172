import { z } from 'zod'
import { Id, Line, RecordFields } from '../../platform/contract.ts'

const Place = Line.meta({ title: 'Where it stands', description: 'So that anybody finds it: shelf 3, top' })

export const PartBoxInput = z
  .strictObject({
    what: Line.meta({ title: 'What is in it', description: 'Hub parts, left; bolts in a bag' }),
    place: Place,
  })
  .meta({ id: 'PartBoxInput' })
export type PartBoxInput = z.infer<typeof PartBoxInput>

/** Without a place it is empty: everything is back on the vehicle. */
export const BoxPlaceInput = z.strictObject({ place: Place.optional() }).meta({ id: 'BoxPlaceInput' })
export type BoxPlaceInput = z.infer<typeof BoxPlaceInput>

export const BoxPlace = z
  .strictObject({ ...RecordFields, box_id: Id, place: z.string().optional() })
  .meta({ id: 'BoxPlace' })
export type BoxPlace = z.infer<typeof BoxPlace>

/** `places` is where it has stood, the last one where it is; without a place in that it is empty. */
export const PartBox = z
  .strictObject({ ...RecordFields, work_order_id: Id, what: z.string(), places: z.array(BoxPlace) })
  .meta({ id: 'PartBox' })
export type PartBox = z.infer<typeof PartBox>
