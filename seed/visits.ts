import type { RandomSource } from '../src/core/random.ts'
import { notePriorWork, recordFinding, tellFindings } from '../src/findings/index.ts'
import { handBack } from '../src/hand-back/index.ts'
import {
  addJob,
  addPartLine,
  authoriseAmount,
  bookLinesOfOrder,
  chargesOfOrder,
  makeEstimate,
  openWorkOrder,
  writeTalk,
} from '../src/work-orders/index.ts'
import { doWholeJob } from './bench-work.ts'
import type { Catalogue } from './catalogue.ts'
import { OPERATIONS } from './catalogue-plans.ts'
import type { Coming, OthersWork } from './lives.ts'
import type { Crew } from './people.ts'
import type { KeptRecordings } from './recordings.ts'
import { at, type Scene } from './scenes.ts'

export interface VehicleInStory {
  id: string
  customer_id: string
  customer_name: string
}

export interface Story {
  crew: Crew
  catalogue: Catalogue
  chance: RandomSource
  /** Photos and sounds, which lie in their folder already. */
  kept: KeptRecordings
}

/** Takes a vehicle in: the order, what others did since, its jobs with their parts, an estimate and a yes to it. */
export function takeInAndAgree(
  story: Story,
  vehicle: VehicleInStory,
  coming: Coming,
  odometerKm: number,
  others: OthersWork[],
): { order: string; jobs: string[] } {
  const { desk } = story.crew
  const order = openWorkOrder(desk, {
    vehicle_id: vehicle.id,
    customer_id: vehicle.customer_id,
    complaint: coming.complaint,
    symptoms: coming.symptom === null ? [] : [coming.symptom],
    odometer_km: odometerKm,
    arrived: coming.symptom === 'Does not start' ? 'towed' : 'runs',
    promised_on: coming.on,
  }).id
  for (const { on, ...work } of others) notePriorWork(desk, vehicle.id, { ...work, ...(on !== null && { on }) })
  const jobs = coming.operations.map(operation => addJobWithParts(story, order, operation))
  agree(story, order, vehicle.customer_name)
  return { order, jobs }
}

/** `batches`: what the box says, by part number, where the story knows it; else it is drawn. */
export function addJobWithParts(
  { crew, catalogue, chance }: Story,
  order: string,
  operation: string,
  batches: Record<string, string> = {},
): string {
  const job = addJob(crew.desk, order, { operation_id: catalogue.operations.get(operation)! })
  for (const [number, , quantity, cost_minor, price_minor, singleUse] of OPERATIONS.find(
    plan => plan.name === operation,
  )!.parts ?? []) {
    const drawn = `${28 + chance.integer(4)}-${100 + chance.integer(800)}`
    addPartLine(crew.desk, job.id, {
      part_id: catalogue.parts.get(number)!,
      quantity,
      batch: batches[number] ?? drawn,
      supplier_id: catalogue.suppliers[chance.integer(catalogue.suppliers.length)]!,
      condition: 'new',
      cost_minor,
      price_minor,
      ...(singleUse === true && job.joints[0] !== undefined && { joint_id: job.joints[0].id }),
    })
  }
  return job.id
}

/** An estimate by the book, and a yes to it, said by the customer. */
export function agree({ crew, chance }: Story, order: string, customerName: string): void {
  const lines = bookLinesOfOrder(crew.desk, order).map(
    ({ kind, job_id, part_id, text, quantity, unit_minor, tax_bp }) => ({
      ...{ kind, text, quantity, unit_minor, tax_bp },
      ...(job_id !== undefined && { job_id }),
      ...(part_id !== undefined && { part_id }),
    }),
  )
  const estimate = makeEstimate(crew.desk, order, { lines })
  const how = (['in_person', 'phone', 'phone', 'message'] as const)[chance.integer(4)]!
  if (how === 'phone')
    writeTalk(crew.desk, order, { with: customerName, how: 'telephone', said: 'The price, read out and read back.' })
  authoriseAmount(crew.desk, order, {
    estimate_id: estimate.id,
    amount_minor: estimate.gross_minor,
    includes_tax: true,
    said_by: customerName,
    how,
  })
}

/** A whole visit in two scenes: taken in and agreed in the morning, done and handed back in the afternoon. */
export function visitScenes(
  story: Story,
  vehicle: VehicleInStory,
  coming: Coming,
  odometerKm: number,
  others: OthersWork[],
): Scene[] {
  const { chance, crew } = story
  const [hour, minute] = [8 + chance.integer(2), chance.integer(60)]
  let taken: ReturnType<typeof takeInAndAgree> | undefined
  const morning: Scene = {
    at: at(coming.on, hour, minute),
    play() {
      taken = takeInAndAgree(story, vehicle, coming, odometerKm, others)
    },
  }
  const afternoon: Scene = {
    at: at(coming.on, 13 + chance.integer(4), chance.integer(60)),
    play() {
      const [technician, second] = chance.integer(2) === 0 ? [crew.tobin, crew.wen] : [crew.wen, crew.tobin]
      const { order, jobs } = taken!
      if (coming.failure !== null) {
        const { component, mode, severity } = coming.failure
        const { id } = recordFinding(technician, {
          ...{ vehicle_id: vehicle.id, job_id: jobs[0]!, component, failure_mode: mode, severity, found_on: coming.on },
          ...(coming.symptom !== null && { symptom: coming.symptom }),
          ...(severity === 'safety' && { advice: 'not_on_the_road' }),
        })
        if (severity === 'safety')
          tellFindings(crew.desk, order, {
            finding_ids: [id],
            ...{ with: vehicle.customer_name, how: 'By telephone', said: 'Leaves it here until it is put right.' },
          })
      }
      const options = { picture: story.kept.tensioner }
      for (const job of jobs) doWholeJob(technician, second, job, chance, options)
      handBack(crew.desk, order, {
        odometer_km: odometerKm + chance.integer(5),
        ...(coming.we_bear && {
          borne_minor: chargesOfOrder(crew.desk, order).total_minor,
          borne_reason: 'Our belt was set too tight',
        }),
      })
    },
  }
  return [morning, afternoon]
}
