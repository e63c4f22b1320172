import { random } from '../src/core/random.ts'
import { handBack } from '../src/hand-back/index.ts'
import { reportBatchFault } from '../src/parts/index.ts'
import { openWorkOrder } from '../src/work-orders/index.ts'
import { doWholeJob } from './bench-work.ts'
import { arrives } from './newcomers.ts'
import { at, type Scene } from './scenes.ts'
import { addJobWithParts, agree, type Story } from './visits.ts'

/** The flange bolts, for one use only, of which some heads crack; the box went into two vans. */
const BAD_BATCH = { number: 'HB-2047', batch: '31-318' }

/** Parts by number, with the batch that the story says they are of. */
export const OF_BAD_BATCH = { [BAD_BATCH.number]: BAD_BATCH.batch }

/** A van that left in October with bolts of the batch, and the maker’s letter of the day on which the other stands open. */
export function badBatchScenes(told: Story): Scene[] {
  // chance of its own: the rest of the story stays as it is
  const story = { ...told, chance: random(318) }
  const { crew, catalogue, chance } = story
  const { vehicle, scene } = arrives(story, at('2031-10-13', 7, 55), {
    plate: 'QH 655 CH',
    family: 'Corvane Haulette B',
    variant: 'long',
    customer: 'Ottoline Marsh',
    phone: '0555 014 702',
    registered: '2028-04-20',
  })
  const visit: Scene = {
    at: at('2031-10-13', 8, 10),
    play() {
      const { id: order } = openWorkOrder(crew.desk, {
        ...{ vehicle_id: vehicle.id, customer_id: vehicle.customer_id, arrived: 'runs', odometer_km: 88_340 },
        complaint: 'It growls in long left bends.',
        symptoms: ['Noise from a wheel'],
        promised_on: '2031-10-13',
      })
      const job = addJobWithParts(story, order, 'Rear wheel bearing: replace', OF_BAD_BATCH)
      agree(story, order, vehicle.customer_name)
      doWholeJob(crew.wen, crew.tobin, job, chance)
      handBack(crew.desk, order, { odometer_km: 88_344 })
    },
  }
  const letter: Scene = {
    at: at('2031-11-04', 13, 20),
    play() {
      reportBatchFault(crew.desk, catalogue.parts.get(BAD_BATCH.number)!, {
        batch: BAD_BATCH.batch,
        reason: 'Heads may crack when they are tightened, says a letter of Velm Bearings',
      })
    },
  }
  return [scene, visit, letter]
}
